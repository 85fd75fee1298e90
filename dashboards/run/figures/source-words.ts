import { sourceTexts } from '../../../shared/weld/figures/source-texts.js';
import { catalogue } from '../../shared/words.js';

/** What the definitions of figures rest on, by their codes; English is the text that the API gives. */
export const sourceWords = catalogue({
  en: sourceTexts,
  zh: {
    heatInput: 'EN 1011-1 与 ISO/TR 17671-1：埋弧焊 k = 1.0。美国惯例 ASME IX QW-409.1(a) 不含 k。',
    arcEnergy: 'E ⁄ L：EN 1011-1、ASME IX QW-409.1。逐弧计算：本程序自定规则。',
    energy: '逐样本计算功率：波形受控时 ASME IX QW-409.1(c) 与 ISO/TR 18491 要求如此。平均值之积是另一个数。',
    arcOn: '燃弧：40 A 且 10 V 持续 0.2 s；熄弧：低于 20 A 持续 0.3 s，除非另有设定。通行做法，无出处。',
    travel: '有行走信号时取其差值，否则为速度 × 时间。数据缺失内按最后速度继续，该长度计为无记录。本程序自定规则。',
    lengths: '每 1 mm 只计一次，按首个符合者：数据缺失、非焊接段、超出限值、未发送、在限值内。本程序自定规则。',
    weighted: '平均值、标准差和有效值的定义，按数值持续的时间加权：到下一个值为止，至多为保持时间。',
    variation: '电弧稳定性的常用度量：Materials 2024, 17(2), 274。未见埋弧焊的公开限值；限值属于工艺规程。',
    events: '时间、电流和电压的界限：通行做法，无出处。较慢的数据不给出数值，绝不为 0。',
    count: '计数。',
    weldHeatInput: '热输入：EN 1011-1 与 ISO/TR 17671-1。区段：引弧持续 2.0 s 且 15 mm，弧坑为最后 2.0 s，除非工艺规程另有规定：通行做法，无出处。',
    zones: '引弧持续 2.0 s 且 15 mm，弧坑为最后 2.0 s，除非工艺规程另有规定：通行做法，无出处。引弧板、引出板取自任务。',
    excursions: '工艺规程中的平滑、延时和回差，否则为 1.0 s、1.0 s、3.0 s 和 5 %：通行做法，无出处。',
    coolingTime: 'EN 1011-2:2001 附录 D，据 SSAB Welding Handbook 第 2 版第 17 页。',
    transition: '令 EN 1011-2:2001 附录 D 的两个公式相等。',
    declared: '随任务输入。',
    measured: 'ISO 13916：焊前即时测量。测量值的有效时间为通行做法，无出处。',
    shapeFactors: 'EN 1011-2:2001 附录 D。由工艺规程给出，因为公开的数表不一致。',
    geometry: '几何：圆形焊丝的体积，圆的周长。',
    weldMetal: '公开的埋弧焊焊丝熔敷效率：0.98 至 1.0。',
    fluxMass: '每 1 kg 熔敷金属约用 1 kg 焊剂：Saluja 与 Moeed。',
    units: '1 kWh 等于 3600 kJ。',
    ratio: '比值的定义。',
    currentDensity: '埋弧焊讲义：电流除以焊丝截面积。',
    extension: '焊丝干伸长为焊丝直径的 6 至 10 倍：通行做法，无出处。',
    meltingRate: '熔化速率与电流、干伸长的关系：Wilson、Claussen 与 Jackson，1956。估计值。',
    powerFactor: '功率因数的定义：实际功率除以有效值之积。',
    ripple: '有效值纹波的定义；其中 100 ms 为本程序自定。',
    cable: '欧姆定律：逐样本扣除电流 × 电缆往返总电阻。',
  },
});
