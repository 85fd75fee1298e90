import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { AlarmsPage } from './alarms/alarms-page.js';
import { CapabilityPage } from './capability/capability-page.js';
import { FloorPage } from './floor/floor-page.js';
import { isKiosk } from './floor/floor-state.js';
import { JobPage } from './job/job-page.js';
import { ProcedurePage } from './procedures/procedure-page.js';
import { ProceduresPage } from './procedures/procedures-page.js';
import { RefusedPage } from './refused/refused-page.js';
import { RunPage } from './run/run-page.js';
import { RunsPage } from './runs/runs-page.js';
import { SeamPage } from './runs/seam-page.js';
import type { Address } from './shared/address.js';
import { Banners } from './shared/banners.js';
import { language } from './shared/choices.js';
import { address } from './shared/current-address.js';
import { Header } from './shared/header.js';
import { sharedWords } from './shared/shared-words.js';
import { useHeadingFocus, usePageTitle } from './shared/use-page-title.js';
import { SensorsPage } from './sensors/sensors-page.js';
import { StationPage } from './station/station-page.js';

/** Header, what is wrong, the page that the address names, and the caution. */
export function App(): JSX.Element {
  const here = address.value;
  const [page = ''] = here.path;
  const main = useRef<HTMLElement>(null);
  const where = here.path.join('/');
  // There is no room for the header at a carriage; where a carriage is chosen it is shown as usual.
  const atStation = page === 'station' && here.path.length > 2;
  useHeadingFocus(() => main.current?.querySelector('h1'), [where]);
  useLayoutEffect(() => {
    document.documentElement.lang = language.value === 'zh' ? 'zh-CN' : 'en';
    document.documentElement.dataset['page'] = page === '' ? 'floor' : page;
  }, [page, language.value]);
  const isFloor = page === '' || page === 'floor';
  return (
    <>
      <a
        class="skip"
        href="#main"
        onClick={(event) => {
          // The part behind # is the address of a page here.
          event.preventDefault();
          main.current?.focus();
        }}
      >
        {sharedWords().skip}
      </a>
      {!atStation && !(isFloor && isKiosk.value) && <Header page={page} />}
      <Banners />
      <main id="main" ref={main} tabIndex={-1}>{pageAt(page, here)}</main>
      <Caution />
    </>
  );
}

function pageAt(page: string, here: Address): JSX.Element {
  const [, first, second] = here.path;
  if (page === '' || page === 'floor') return <FloorPage />;
  if (page === 'station') return <StationPage key={`${first ?? ''}/${second ?? ''}`} site={first ?? null} carriage={second ?? null} />;
  if (page === 'job' && first !== undefined && second !== undefined) return <JobPage key={`${first}/${second}`} site={first} carriage={second} />;
  if (page === 'sensors' && first !== undefined && second !== undefined) return <SensorsPage key={`${first}/${second}`} site={first} carriage={second} />;
  if (page === 'seam' && first !== undefined) return <SeamPage key={first} seam={first} />;
  if (page === 'runs') return <RunsPage query={here.query} />;
  if (page === 'refused') return <RefusedPage query={here.query} />;
  if (page === 'alarms') return <AlarmsPage query={here.query} />;
  if (page === 'capability') return <CapabilityPage query={here.query} />;
  if (page === 'procedures') return <ProceduresPage />;
  if (page === 'procedure') return <ProcedurePage key={first ?? ''} id={first} query={here.query} />;
  if (page === 'run' && first !== undefined) return <RunPage key={first} id={first} query={here.query} />;
  return <NoSuchPage />;
}

function NoSuchPage(): JSX.Element {
  const say = sharedWords();
  usePageTitle(say.noSuchPage);
  return (
    <section class="empty">
      <h1 tabIndex={-1}>{say.noSuchPage}</h1>
      <p><code>{window.location.hash}</code> <a href="#/">{say.seeFloor}</a> · <a href="#/runs">{say.seeRuns()}</a></p>
    </section>
  );
}

/** Stands at the foot of every page. */
function Caution(): JSX.Element {
  return <footer class="caution">{sharedWords().caution}</footer>;
}
