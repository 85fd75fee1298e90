import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Choices } from './choices-controls.js';
import { ConnectionState } from './connection-state.js';
import { serviceFacts } from './service-facts.js';
import { sharedWords } from './shared-words.js';

/** The pages that the header leads to, and the pages below each. Refused messages belong to none of them: the shop floor and the menu lead there. */
export const pageLinks = [
  { name: 'floor', href: '#/', below: [''] },
  { name: 'stations', href: '#/station', below: ['station', 'job', 'sensors'] },
  { name: 'runs', href: '#/runs', below: ['run', 'seam'] },
  { name: 'alarms', href: '#/alarms', below: [] },
  { name: 'procedures', href: '#/procedures', below: ['procedure', 'capability'] },
] as const satisfies readonly { readonly name: string; readonly href: string; readonly below: readonly string[] }[];

export function Header({ page }: { readonly page: string }): JSX.Element {
  return (
    <header class="top">
      <span class="name">Seamwarden</span>
      <PageLinks page={page} />
      <ConnectionState />
      <PageMenu />
    </header>
  );
}

export function PageLinks({ page }: { readonly page: string }): JSX.Element {
  const say = sharedWords();
  return (
    <nav aria-label={say.pages}>
      {pageLinks.map(({ name, href, below }) => {
        const isBelow = (below as readonly string[]).includes(page);
        return (
          <a key={name} href={href} aria-current={page === name || (isBelow && page === '') ? 'page' : isBelow ? 'true' : undefined}>
            {name === 'runs' ? say.runsLabel() : say[name]}
          </a>
        );
      })}
    </nav>
  );
}

/** Settings that are chosen once and then left alone: units, language, light or dark; and facts about the service. */
function PageMenu(): JSX.Element {
  const say = sharedWords();
  const [isOpen, setOpen] = useState(false);
  const place = useRef<HTMLDivElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!isOpen) return undefined;
    const close = (event: Event): void => {
      if (event.target instanceof Node && place.current?.contains(event.target) !== true) setOpen(false);
    };
    document.addEventListener('pointerdown', close);
    window.addEventListener('hashchange', close);
    return () => {
      document.removeEventListener('pointerdown', close);
      window.removeEventListener('hashchange', close);
    };
  }, [isOpen]);
  const facts = serviceFacts.value;
  return (
    <div
      class="page-menu"
      ref={place}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !isOpen) return;
        setOpen(false);
        button.current?.focus();
      }}
    >
      <button ref={button} type="button" aria-expanded={isOpen} aria-controls="page-menu" onClick={() => { setOpen(!isOpen); }}>
        {say.menu}
      </button>
      {isOpen && (
        <div class="page-menu-box" id="page-menu">
          <Choices />
          <p><a href="#/refused">{say.refused}</a></p>
          <p><a href="#/?kiosk=1">{say.kiosk}</a></p>
          {facts !== null && <p class="aside">Seamwarden {facts.version} · {say.timesIn(facts.timeZone.replaceAll('_', ' '))}</p>}
        </div>
      )}
    </div>
  );
}
