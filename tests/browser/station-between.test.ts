import { describe, expect, it } from 'vitest';
import { withPresent } from '../../dashboards/station/history.js';
import type { History } from '../../dashboards/station/history.js';
import type { Carriage } from '../../shared/api-types/carriage.js';
import { madeCarriage } from './made-carriages.js';
import { ofTandem } from './made-floor.js';
import { hasBrowser } from './open-browser.js';
import type { PageOptions, WatchedPage } from './open-browser.js';
import { runAxe } from './run-axe.js';
import { useFakeService } from './use-fake-service.js';

const job = { seam: 'DK-0417/L2', run: 3, procedure: 'SA-12', seamLength: 6000, fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', spoolMass: 25 }], operator: 'op-07', preparation: { surfaceCleaned: true } };
const off = (change: Partial<Carriage> = {}): Carriage =>
  madeCarriage('c1', { welding: false, assignment: job, arcs: madeCarriage('c1').arcs.map((own) => ({ ...own, on: false, current: 0, voltage: 0 })), ...change });

describe('what the station keeps of the last minute', () => {
  const at = (second: number, change: Partial<Carriage> = {}): Carriage => madeCarriage('c1', { lastSeen: new Date(1_795_590_000_000 + second * 1000).toISOString(), travelled: second * 9, ...change });
  const told = (...carriages: readonly Carriage[]): History => carriages.reduce<History>((history, own) => withPresent(history, own), new Map());

  it('is 60 s of a value, and 300 mm of heat input', () => {
    const history = told(...Array.from({ length: 100 }, (_, second) => at(second)));
    expect(history.get('current')).toHaveLength(61);
    // 9 mm/s: places from 591 to 891 mm.
    expect(history.get('heatInput')?.map((point) => point.at)).toEqual(Array.from({ length: 34 }, (_, index) => 594 + index * 9));
  });

  it('begins anew if the carriage is elsewhere or the clock went back, and has no values of an arc that is out', () => {
    expect(told(at(10), at(11), at(5)).get('current')).toHaveLength(1);
    expect(told(at(10), at(11, { travelled: 5000 })).get('heatInput')).toHaveLength(1);
    expect(told(off()).get('current')).toBeUndefined();
  });
});

describe.skipIf(!hasBrowser)('the station between runs', () => {
  const { service, openAt } = useFakeService({ locale: 'en' });

  const open = async (options: PageOptions = {}): Promise<WatchedPage> => await openAt('station/hall-a/c1', options);
  const jobs = (): readonly Readonly<Record<string, unknown>>[] => service.writes.filter(({ path }) => path === '/api/carriages/hall-a/c1/assignment').map(({ body }) => body);

  it('asks what comes next, and begins the next run by one press: its number one higher, with materials and without checks', async () => {
    const before = jobs().length;
    service.tell(off({ outlook: { lengthToGo: 0, endsAt: null, wire: [{ arc: 1, lengthNeeded: 0, massNeeded: 0, massLeft: 18.2504, endsShortBy: 0 }], absent: {} } }));
    const { page, complaints } = await open();
    await page.getByText('DK-0417/L2 · run 3: arc is out. What comes next?').waitFor();
    expect(await runAxe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Next run DK-0417/L2 · run 4' }).click();
    await expect.poll(() => jobs().slice(before)).toEqual([{ seam: 'DK-0417/L2', run: 4, procedure: 'SA-12', seamLength: 6000, fluxLot: 'F-1', arcs: [{ arc: 1, wireLot: 'W-1', spoolMass: 18.25 }], operator: 'op-07', by: 'station c1' }]);
    // The checks are what comes then.
    await page.getByRole('heading', { name: 'Preparation' }).waitFor();
    expect(complaints).toEqual([]);
  });

  it.each([[1280, 800], [1920, 1080], [3840, 2160]] as const)('shows all of a tandem job and of its limits at once at %i × %i', async (width, height) => {
    service.tell(off({ ...ofTandem, run: null, assignment: { ...job, seam: 'SHELL-12/L1', run: 2, thickness: 18, side: 2, datum: 'punch mark frame 29', startOffset: 1090, arcs: [{ arc: 1, wireDiameter: 4, wireLot: 'W-51440' }, { arc: 2, wireDiameter: 4, wireLot: 'W-79131' }] } }));
    const { page } = await openAt('station/hall-a/c1', { viewport: { width, height } });
    await page.getByText('Ready for SHELL-12/L1 · run 2.').waitFor();
    await page.evaluate(() => document.fonts.ready);
    const ends = await page.locator('.facts dd').evaluateAll((all) => all.map((own) => own.getBoundingClientRect().bottom));
    expect(ends).toHaveLength(11 + 6);
    const caution = await page.locator('footer').last().boundingBox();
    expect(Math.max(...ends)).toBeLessThanOrEqual(caution?.y ?? 0);
  });

  it('lets the same run go on, which can be undone, or ends it', async () => {
    service.tell(off());
    const { page } = await open();
    await page.getByRole('button', { name: 'Same run, restart' }).click();
    await page.getByText('DK-0417/L2 · run 3 goes on: restart where it stopped.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    const before = service.writes.length;
    await page.getByRole('button', { name: 'Run finished' }).click();
    await page.getByText('No job assigned.').first().waitFor();
    expect(service.writes.slice(before).map(({ path }) => path)).toEqual(['/api/carriages/hall-a/c1/assignment']);
  });

  it('asks the same once the run is closed while its job is still in force, and says why a press was not taken', async () => {
    service.know({ runs: [{ id: 'run-c1', assignment: job }] });
    service.tell(off({ run: null, outlook: null }));
    service.refuseWrites('Data cannot be stored.');
    const { page } = await open();
    await page.getByRole('button', { name: /^Next run/ }).click();
    await page.getByText('Not saved: Data cannot be stored. Try again.').waitFor();
  });

  it('goes on from the last run by one press where no job is assigned, and offers a new one', async () => {
    service.know({ runs: [{ id: 'run-c1', assignment: job }] });
    service.tell(off({ run: null, outlook: null, assignment: null }));
    const { page } = await open();
    await page.getByRole('button', { name: 'Next run DK-0417/L2 · run 4' }).waitFor();
    await page.getByRole('navigation', { name: 'Actions' }).getByRole('button', { name: 'Assign a job …' }).click();
    await page.getByRole('button', { name: 'New job' }).click();
    await page.getByLabel('Seam', { exact: true }).fill('L-9');
    await page.getByRole('button', { name: 'More: Run number' }).click();
    expect(await runAxe(page)).toEqual([]);
    for (let step = 0; step < 4; step += 1) await page.getByRole('button', { name: 'Next', exact: true }).click();
    await page.getByLabel('Your name').fill('Kim');
    const before = jobs().length;
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await expect.poll(() => jobs().slice(before)).toEqual([{ seam: 'L-9', run: 1, by: 'Kim' }]);
  });

  it('asks at once if the arc was struck far from where it went out, and then begins the next run at that place', async () => {
    const lit = madeCarriage('c1', { assignment: job, litElsewhere: true, runStartedAt: '2026-11-25T10:00:00.000Z' });
    service.tell(lit);
    const { page } = await open();
    await page.getByText('Arc started far from where it stopped. Is this DK-0417/L2 · run 4?').waitFor();
    // The numbers stay where they are meanwhile.
    expect(await page.locator('.quantity').count()).toBe(4);
    expect(await runAxe(page)).toEqual([]);
    await page.getByRole('button', { name: 'Yes, run 4' }).click();
    await expect.poll(() => service.writes.at(-1)?.body).toMatchObject({ seam: 'DK-0417/L2', run: 4, time: '2026-11-25T10:00:00.000Z', by: 'station c1' });
    service.tell({ ...lit, run: 'another' });
    await page.getByRole('button', { name: 'No, same run' }).click();
    await page.getByText('No active alarms.').waitFor();
  });

  it('enters a new spool while the arc burns, with where it was changed', async () => {
    service.tell(madeCarriage('c1', { assignment: job }));
    const { page } = await open();
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('button', { name: 'Spool or flux …' }).click();
    await page.getByRole('button', { name: 'Spool changed' }).click();
    await page.getByLabel(/^Lot/).fill('W-2');
    await page.getByLabel('Mass, kg').fill('25,5');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await expect.poll(() => service.writes.at(-1)).toEqual({ path: '/api/carriages/hall-a/c1/materials', body: { seam: 'DK-0417/L2', run: 3, by: 'station c1', kind: 'spoolChanged', arc: 1, lot: 'W-2', mass: 25.5, travelled: 3570 } });
  });

  it('remembers its carriage, and changes it by the menu', async () => {
    service.tell(off(), madeCarriage('c2'));
    const { page } = await open();
    await page.getByRole('heading', { level: 1, name: /c1/ }).waitFor();
    await page.goto(`${service.http}/#/station`);
    await page.getByRole('heading', { level: 1, name: /c1/ }).waitFor();
    await page.getByRole('button', { name: 'Menu' }).click();
    await page.getByRole('link', { name: 'Change carriage' }).click();
    await page.getByRole('heading', { name: 'Choose your carriage' }).waitFor();
    await page.getByRole('link', { name: /^c2/ }).click();
    await page.getByRole('heading', { level: 1, name: /c2/ }).waitFor();
  });

  it.each(['en', 'zh-CN'])('fits a phone in %s', async (locale) => {
    service.tell(off());
    const { page } = await open({ locale, viewport: { width: 390, height: 844 } });
    await page.locator('.what-next').waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.goto(`${service.http}/#/job/hall-a/c1`);
    await page.locator('.job-form').waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
