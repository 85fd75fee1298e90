import type { JSX } from 'preact';
import { ConnectionState } from './connection-state.js';

const pages = [
  { name: 'carriages', href: '#/', label: 'Carriages' },
  { name: 'runs', href: '#/runs', label: 'Runs' },
] as const;

export function Header({ page }: { readonly page: string }): JSX.Element {
  const here = page === '' ? 'carriages' : page === 'run' ? 'runs' : page;
  return (
    <header class="top">
      <span class="name">Seamwarden</span>
      <nav aria-label="Pages">
        {pages.map(({ name, href, label }) => (
          <a key={name} href={href} aria-current={name === here ? (page === 'run' ? 'true' : 'page') : undefined}>
            {label}
          </a>
        ))}
      </nav>
      <ConnectionState />
    </header>
  );
}
