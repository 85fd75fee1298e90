import type { Alarm } from '../../shared/api-types/alarm.js';
import { language } from './choices.js';
import { isActive } from './standing-alarms.js';
import { catalogue } from './words.js';

/** What to do about an alarm for which the procedure names no action; common practice, no source. */
export const alarmActionsWords = catalogue({
  en: {
    noData: 'Check whether the arc is on. Go by the meters of the power source, and check the carriage’s power and network.',
    travelStopped: 'Stop the arc. Check drive, track and cables, and look at the spot before restarting.',
    polarity: 'Stop the arc. Check the polarity setting and the welding cables against the procedure.',
    overlap: 'Mark the unwelded length and have it repaired before the next run.',
    feedMismatch: 'Check the wire and its diameter, the drive rolls, the polarity and the electrode extension.',
    storage: 'Tell whoever looks after the server: check the disk and its free space.',
    broker: 'Tell whoever looks after the server: check that the MQTT broker is running and the network is up.',
    sequence: 'Have the carriage’s network and its controller checked: readings are missing, or its message numbers do not count up by one.',
    serviceClock: 'Tell whoever looks after the server: check its clock. Times before and after the change do not match.',
    carriages: 'Tell whoever looks after the server: remove carriages that are no longer in use.',
    currentHigh: 'Turn the current down at the power source; check the electrode extension.',
    currentLow: 'Turn the current up at the power source; check the electrode extension and the wire feed.',
    voltageHigh: 'Turn the voltage down at the power source.',
    voltageLow: 'Turn the voltage up at the power source; check the contact tip and the cables.',
    travelSpeedHigh: 'Slow the carriage down.',
    travelSpeedLow: 'Speed the carriage up; check track, cables and drive for drag.',
    wireFeedSpeedHigh: 'Turn the wire feed down.',
    wireFeedSpeedLow: 'Check wire, liner, drive rolls and contact tip; turn the wire feed up.',
    heatInputHigh: 'Check current, voltage and travel speed: travel is too slow or the power too high.',
    heatInputLow: 'Check current, voltage and travel speed: travel is too fast or the power too low.',
    currentVariation: 'Check wire feed, contact tip and electrode extension.',
    voltageVariation: 'Check wire feed, contact tip, work lead and flux cover.',
    preheatHigh: 'The run began on a plate that was too hot: stop if the procedure demands it, and tell the welding coordinator. Measure again if the value is wrong.',
    preheatLow: 'The run began on a plate that was too cold: stop if the procedure demands it, and tell the welding coordinator. Measure again if the value is wrong.',
    interpassTemperatureHigh: 'The run began on a plate that was too hot: stop if the procedure demands it, and tell the welding coordinator. Measure again if the value is wrong.',
    interpassTemperatureLow: 'The run began on a plate that was too cold: stop if the procedure demands it, and tell the welding coordinator. Measure again if the value is wrong.',
    other: 'Bring the value back within its limits; if that cannot be done, stop and call the welding coordinator.',
  },
  zh: {
    noData: '先确认电弧是否在燃烧；以焊接电源的仪表为准，并检查小车的供电和网络。',
    travelStopped: '停弧。检查行走机构、导轨和电缆，并查看停留处，然后再引弧。',
    polarity: '停弧。按工艺规程核对极性设置和焊接电缆接法。',
    overlap: '标出未焊段，下一焊道之前安排补焊。',
    feedMismatch: '检查焊丝牌号和直径、送丝轮、极性和焊丝干伸长。',
    storage: '通知服务器管理人员：检查磁盘及剩余空间。',
    broker: '通知服务器管理人员：检查 MQTT 代理是否在运行、网络是否正常。',
    sequence: '检查小车的网络和控制器：读数有缺失，或报文序号未逐一递增。',
    serviceClock: '通知服务器管理人员：检查服务器时钟。更改前后的时间不一致。',
    carriages: '通知服务器管理人员：移除不再使用的小车。',
    currentHigh: '在焊接电源上调低电流；检查焊丝干伸长。',
    currentLow: '在焊接电源上调高电流；检查焊丝干伸长和送丝。',
    voltageHigh: '在焊接电源上调低电压。',
    voltageLow: '在焊接电源上调高电压；检查导电嘴和电缆。',
    travelSpeedHigh: '降低小车速度。',
    travelSpeedLow: '提高小车速度；检查导轨、电缆和驱动是否受阻。',
    wireFeedSpeedHigh: '调低送丝速度。',
    wireFeedSpeedLow: '检查焊丝、送丝软管、送丝轮和导电嘴；调高送丝速度。',
    heatInputHigh: '检查电流、电压和焊接速度：速度过慢或功率过大。',
    heatInputLow: '检查电流、电压和焊接速度：速度过快或功率过小。',
    currentVariation: '检查送丝、导电嘴和焊丝干伸长。',
    voltageVariation: '检查送丝、导电嘴、地线和焊剂覆盖。',
    preheatHigh: '开始焊接时钢板过热：如工艺规程要求则停焊，并通知焊接责任人员。若数值有误，请重新测量。',
    preheatLow: '开始焊接时钢板温度过低：如工艺规程要求则停焊，并通知焊接责任人员。若数值有误，请重新测量。',
    interpassTemperatureHigh: '开始焊接时钢板过热：如工艺规程要求则停焊，并通知焊接责任人员。若数值有误，请重新测量。',
    interpassTemperatureLow: '开始焊接时钢板温度过低：如工艺规程要求则停焊，并通知焊接责任人员。若数值有误，请重新测量。',
    other: '将数值调回限值以内；若调不回，停焊并通知焊接责任人员。',
  },
});

/**
 * What to do now: the procedure's action, in the chosen language if it gives one, or a built-in action if it names none. Null if the alarm is not active: there is nothing to do
 * about a cleared alarm. The caller has to know whether it belongs to the current run.
 */
export function actionOf(alarm: Pick<Alarm, 'state' | 'quantity' | 'limit' | 'worst' | 'response' | 'responses' | 'site'>): string | null {
  if (!isActive(alarm)) return null;
  // The response of a service alarm is its reason, not an action.
  return alarm.site === null ? builtInAction(alarm) : (alarm.responses?.[language.value] ?? alarm.response ?? builtInAction(alarm));
}

/** The action that is built in, in the chosen language. */
export function builtInAction({ quantity, limit, worst }: Pick<Alarm, 'quantity' | 'limit' | 'worst'>): string {
  const say: Readonly<Record<string, string | undefined>> & { readonly other: string } = alarmActionsWords();
  const sided = limit === null || worst === null || worst === limit ? 'other' : `${quantity}${worst > limit ? 'High' : 'Low'}`;
  return say[quantity] ?? say[sided] ?? say.other;
}
