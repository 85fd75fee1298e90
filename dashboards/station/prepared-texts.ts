import { language, type Language } from '../shared/choices.js';

const notes: Readonly<Record<Language, readonly string[]>> = {
  en: ['Contact tube changed', 'Wire feed fixed', 'Setting corrected', 'Track or tracking corrected', 'Stopped, coordinator called', 'Cause not found'],
  zh: ['已更换导电嘴', '已排除送丝问题', '已调整设定值', '已调整轨道或跟踪', '已停焊并通知焊接责任人员', '未找到原因'],
};

const reasons: Readonly<Record<Language, readonly string[]>> = {
  en: ['Repair under way', 'Faulty sensor', 'Agreed with the coordinator', 'Test piece'],
  zh: ['正在处理', '传感器故障', '已与焊接责任人员商定', '试件'],
};

/** Notes that one press adds to an alarm, in the language of the pages. */
export function preparedNotes(): readonly string[] {
  return notes[language.value];
}

/** Why an alarm can be shelved by one press. */
export function preparedReasons(): readonly string[] {
  return reasons[language.value];
}
