import type { JSX } from 'preact';
import { appearance, chooseAppearance, chooseLanguage, chooseUnits, language, unitSystem } from './choices.js';
import { SelectField } from './form-parts.js';

/** Both languages at once, so that people who cannot read the chosen language find the other. */
export const choiceLabels = {
  units: 'Units · 单位',
  language: 'Language · 语言',
  appearance: 'Appearance · 外观',
  metric: 'Metric (mm, kJ/mm, °C)',
  us: 'US (in, kJ/in, °F)',
  en: 'English',
  zh: '中文',
  system: 'as the system · 跟随系统',
  light: 'light · 浅色',
  dark: 'dark · 深色',
} as const;

const appearances = ['system', 'light', 'dark'] as const;

/** Units, language and appearance of this browser. */
export function Choices(): JSX.Element {
  return (
    <div class="choices">
      <SelectField
        label={<span>{choiceLabels.units}</span>}
        value={unitSystem.value}
        choices={[['metric', choiceLabels.metric], ['us', choiceLabels.us]]}
        onChoose={(units) => { chooseUnits(units === 'us' ? 'us' : 'metric'); }}
      />
      <label>
        <span>{choiceLabels.language}</span>
        <select value={language.value} onChange={(event) => { chooseLanguage(event.currentTarget.value === 'zh' ? 'zh' : 'en'); }}>
          <option value="en" lang="en">{choiceLabels.en}</option>
          <option value="zh" lang="zh">{choiceLabels.zh}</option>
        </select>
      </label>
      <SelectField
        label={<span>{choiceLabels.appearance}</span>}
        value={appearance.value}
        choices={appearances.map((name) => [name, choiceLabels[name]] as const)}
        onChoose={(chosen) => { chooseAppearance(appearances.find((name) => name === chosen) ?? 'system'); }}
      />
    </div>
  );
}
