import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { CarriagesPage } from './carriages/carriages-page.js';
import { RunPage } from './run/run-page.js';
import { RunsPage } from './runs/runs-page.js';
import type { Address } from './shared/address.js';
import { address } from './shared/current-address.js';
import { Banners } from './shared/banners.js';
import { Caution } from './shared/caution.js';
import { Header } from './shared/header.js';

/** Header, what is wrong, the page that the address names, and the caution. */
export function App(): JSX.Element {
  const here = address.value;
  const [page = ''] = here.path;
  const main = useRef<HTMLElement>(null);
  const first = useRef(true);
  const where = here.path.join('/');
  useEffect(() => {
    // A new page is told to those who do not see it: focus goes to its heading. The first page leaves focus where browsers put it.
    if (first.current) first.current = false;
    else {
      window.scrollTo(0, 0);
      main.current?.querySelector('h1')?.focus();
    }
  }, [where]);
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
        Skip to the page
      </a>
      <Header page={page} />
      <Banners />
      <main id="main" ref={main} tabIndex={-1}>
        {pageAt(page, here)}
      </main>
      <Caution />
    </>
  );
}

function pageAt(page: string, here: Address): JSX.Element {
  const id = here.path[1];
  if (page === '' || page === 'carriages') return <CarriagesPage />;
  if (page === 'runs') return <RunsPage query={here.query} />;
  if (page === 'run' && id !== undefined) return <RunPage key={id} id={id} query={here.query} />;
  return (
    <section class="empty">
      <h1 tabIndex={-1}>There is no such page</h1>
      <p>
        The address <code>{window.location.hash}</code> names no page. <a href="#/">See the carriages</a> or <a href="#/runs">the runs</a>.
      </p>
    </section>
  );
}
