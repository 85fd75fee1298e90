import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkNumber } from '../../dashboards/job/job-fields.js';
import { draftOf, jobOf } from '../../dashboards/job/job-draft.js';
import { nextJob } from '../../dashboards/job/next-job.js';
import { chooseUnits } from '../../dashboards/shared/choices.js';
import { madeCarriage } from './made-carriages.js';
import { hasBrowser } from './open-browser.js';
import type { WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';

const full = {
  seam: 'DK-0417/L2', run: 3, procedure: 'SA-12', purpose: 'production' as const, seamLength: 6000, thickness: 20, side: 2, datum: 'punch mark frame 12', startOffset: 6060, direction: -1 as const,
  runOn: 60, runOff: 60, motion: 'work' as const, diameter: 4200, preheat: 20, operator: 'op-07', arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32, wireLot: 'W-88121', spoolMass: 25 }], fluxLot: 'F-3307', simulated: true,
};

afterEach(() => {
  chooseUnits('metric');
});

describe('a job as it is typed', () => {
  it('is unchanged if nothing was touched', () => {
    expect(jobOf(draftOf(full), full)).toEqual({ ok: true, job: full });
  });

  it('accepts a comma or a point, and says what is wrong with each field', () => {
    expect(checkNumber('thickness', '20,5', undefined)).toEqual({ value: 20.5 });
    expect(checkNumber('thickness', '20.5', undefined)).toEqual({ value: 20.5 });
    expect(checkNumber('run', '2.5', undefined)).toBe('notWhole');
    expect(checkNumber('run', '10000', undefined)).toBe('outOfRange');
    expect(checkNumber('seamLength', '0', undefined)).toBe('outOfRange');
    expect(checkNumber('seamLength', '1e3', undefined)).toBe('notANumber');
    // Six metres or six millimetres: nobody can tell.
    expect(checkNumber('seamLength', '6,000', undefined)).toBe('thousands');
    expect(checkNumber('seamLength', '6 000', undefined)).toEqual({ value: 6000 });
    const draft = draftOf(null);
    expect(jobOf({ ...draft, texts: { ...draft.texts, motion: 'work' } }, null)).toEqual({ ok: false, wrong: { seam: 'required', run: 'required', diameter: 'diameterNeeded' } });
  });

  it('is shown in inches as a person would type it, and keeps all digits of values that nobody retyped', () => {
    chooseUnits('us');
    const draft = draftOf(full);
    // 6000 / 25.4 = 236.2205, 20 / 25.4 = 0.7874, 60 / 25.4 = 2.3622, 32 / 25.4 = 1.2598; 4 mm wire is sold as 5/32 in; 25 / 0.45359237 = 55.1156; 20 · 1.8 + 32 = 68.
    expect(draft.numbers).toMatchObject({ seamLength: '236.22', thickness: '0.787', runOn: '2.36', preheat: '68', run: '3' });
    expect(draft.arcs[0]?.texts).toMatchObject({ wireDiameter: '5/32', electrodeExtension: '1.26', spoolMass: '55.116' });
    expect(jobOf(draft, full)).toEqual({ ok: true, job: full });
    // What was typed in inches comes back as it was typed: 236.2205 · 25.4 = 6000.0007.
    const typed = jobOf({ ...draft, numbers: { ...draft.numbers, seamLength: '236.2205' } }, full);
    expect(typed).toEqual({ ok: true, job: { ...full, seamLength: 6000.0007 } });
    expect(draftOf(typed.ok ? typed.job : null).numbers.seamLength).toBe('236.2205');
  });

  it('continues with the next number, with materials but without checks and times', () => {
    const welded = { ...full, time: '2026-11-25T10:00:00.000Z', preparation: { surfaceCleaned: true, by: 'op-07' } };
    const bare = { ...full, run: 4, arcs: [{ arc: 1, wireDiameter: 4, electrodeExtension: 32, wireLot: 'W-88121' }] };
    expect(nextJob(welded)).toEqual(bare);
    // 25 kg less what the run has melted is what the next one begins with.
    expect(nextJob(welded, [{ arc: 1, massLeft: 18.25049 }])).toEqual({ ...bare, arcs: [{ ...bare.arcs[0], spoolMass: 18.25 }] });
    expect(nextJob({ ...full, run: 9999 })).toBeNull();
  });
});

describe.skipIf(!hasBrowser)('the job form', () => {
  const { service, openAt } = useFakeService();
  beforeEach(() => {
    service.know({ procedures: [{ id: 'SA-12', title: '20 mm butt', revision: 1, runGroups: [{ name: 'first side', side: 1, runs: [1, 1] }, { name: 'second side', side: 2, runs: [2, 3] }] }] });
  });

  const open = async (): Promise<WatchedPage> => {
    const opened = await openAt('job/hall-a/c1');
    await opened.page.getByRole('heading', { name: 'Job for c1' }).waitFor();
    return opened;
  };
  const jobs = (): readonly Readonly<Record<string, unknown>>[] => service.writes.filter(({ path }) => path === '/api/carriages/hall-a/c1/assignment').map(({ body }) => body);

  it('gives a carriage its job, with the procedure from the list and the limits that the run gets', async () => {
    service.tell(madeCarriage('c1', { welding: false, run: null, outlook: null, assignment: null }));
    const { page, complaints } = await open();
    await page.getByText('No job assigned.').waitFor();
    // Fields of one row are in one line, however long their labels are.
    const edges = await page.getByRole('group', { name: 'Position on the seam' }).locator('input, select').evaluateAll((all) => all.slice(0, 4).map((own) => own.getBoundingClientRect().bottom));
    expect(new Set(edges).size).toBe(1);
    // Buttons are as large as anywhere at a desk: 36 px.
    for (const name of ['Save', 'Add an arc']) expect((await page.getByRole('button', { name }).boundingBox())?.height ?? 0).toBeGreaterThanOrEqual(36);
    await page.getByRole('button', { name: 'Save' }).click();
    // Seam, run and name; nothing was sent.
    await page.getByText('Not saved: please correct 3 fields.').waitFor();
    expect(jobs()).toEqual([]);
    await page.getByLabel('Seam', { exact: true }).fill('L-1');
    await page.getByLabel('Run number').fill('2');
    await page.getByLabel('Side').fill('2');
    await page.getByLabel('Procedure').selectOption('SA-12');
    await page.getByText('Limits used: second side · runs 2 to 3 · side 2').waitFor();
    await page.getByLabel('Run number').fill('7');
    await page.getByText('No limits for run 7 in this procedure – it will not be monitored.').waitFor();
    await page.getByLabel('Run number').fill('2');
    await page.getByLabel('Plate thickness, mm').fill('20,5');
    await page.getByLabel('Wire lot').fill('W-1');
    await page.getByLabel('Your name').fill('Kim');
    expect(await runAxe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Current job: L-1 · run 2').waitFor();
    expect(jobs()).toEqual([{ seam: 'L-1', run: 2, side: 2, procedure: 'SA-12', thickness: 20.5, arcs: [{ arc: 1, wireLot: 'W-1' }], by: 'Kim' }]);
    expect(complaints).toEqual([]);
  });

  it('corrects the current job only with a reason, and keeps what was typed when it is refused', async () => {
    const before = jobs().length;
    service.tell(madeCarriage('c1', { assignment: full }));
    const { page } = await open();
    await page.getByLabel('Flux lot').fill('F-4000');
    await page.getByLabel('Your name').fill('Kim');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Required – say why the job changes.').waitFor();
    await page.getByLabel('Reason').fill('Other material used');
    service.refuseWrites('Data cannot be stored.');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Not saved: Data cannot be stored. Your entries are kept.').waitFor();
    expect(await page.getByLabel('Flux lot').inputValue()).toBe('F-4000');
    service.refuseWrites(null);
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Saved.').waitFor();
    expect(jobs().slice(before).at(-1)).toEqual({ ...full, fluxLot: 'F-4000', by: 'Kim', reason: 'Other material used' });
  });

  it('goes on from the last run of the carriage with the next number', async () => {
    const before = jobs().length;
    service.know({ runs: [{ id: 'r1', assignment: full }] });
    service.tell(madeCarriage('c1', { welding: false, run: null, outlook: null, assignment: null }));
    const { page } = await open();
    await expect.poll(() => page.getByLabel('Run number').inputValue()).toBe('4');
    await page.getByLabel('Your name').fill('Kim');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Current job: DK-0417/L2 · run 4').waitFor();
    expect(jobs().slice(before).at(-1)).toMatchObject({ seam: 'DK-0417/L2', run: 4, fluxLot: 'F-3307' });
  });
});
