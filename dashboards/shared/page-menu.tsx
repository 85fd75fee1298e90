import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Choices } from './choices-controls.js';
import { serviceFacts } from './service-facts.js';
import { sharedWords } from './shared-words.js';
import { wordsOf } from './words.js';

/** Settings that are chosen once and then left alone: units, language, light or dark; and facts about the service. */
export function PageMenu(): JSX.Element {
  const say = wordsOf(sharedWords);
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
