import { commonWords } from '../../shared/common-words.js';
import { catalogue } from '../../shared/words.js';

/** Inputs that are no figures, the origins of inputs, and the grades of definitions. */
export const whereFromWords = catalogue({
  en: {
    k: 'Thermal efficiency', thermalEfficiency: 'Thermal efficiency', diameter: commonWords.en.wireDiameter, workDiameter: 'Diameter of the workpiece', wires: 'Number of wires', recovery: 'Recovery', fluxRatio: 'Flux per weld metal',
    electrodeExtension: commonWords.en.electrodeExtension, thickness: 'Thickness', T0: 'Temperature before arc start', F2: 'Shape factor F2', F3: 'Shape factor F3',
    ofArc: (what: string, arc: number) => `${what}, arc ${arc}`,
    measured: 'measured', declared: 'declared with the job', procedure: 'from the procedure', setting: 'default', computed: 'computed',
    noFormula: 'none: a sum over samples, a count or a place',
    grade: 'Grade',
    P: 'P: published, source seen', X: 'X: exact, mathematics', C: 'C: common practice or own choice, no source', M: 'M: from memory, source not seen',
    reading: 'Reading …',
    asJson: 'All figures',
  },
  zh: {
    k: '热效率', thermalEfficiency: '热效率', diameter: commonWords.zh.wireDiameter, workDiameter: '工件直径', wires: '焊丝根数', recovery: '熔敷效率', fluxRatio: '焊剂与熔敷金属之比',
    electrodeExtension: commonWords.zh.electrodeExtension, thickness: '厚度', T0: '引弧前温度', F2: '形状系数 F2', F3: '形状系数 F3',
    ofArc: (what: string, arc: number) => `${what}，电弧 ${arc}`,
    measured: '实测', declared: '任务中申报', procedure: '取自工艺规程', setting: '默认值', computed: '计算值',
    noFormula: '无：对样本求和、计数或位置',
    grade: '依据等级',
    P: 'P：已公开，出处已见', X: 'X：精确，数学关系', C: 'C：通行做法或自定，无出处', M: 'M：凭记忆，未见出处',
    reading: '读取中…',
    asJson: '全部数值',
  },
});
