import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './shared/theme.css';
import './shared/parts.css';
import { App } from './app.js';
import { effect } from '@preact/signals';
import { startAlarmBadge } from './shared/alarm-badge.js';
import { applyChoices } from './shared/choices.js';
import { address } from './shared/current-address.js';
import { dark } from './shared/dark.js';
import { startHealthPoll } from './shared/health.js';
import { startLiveFeed } from './shared/live-feed.js';

const place = document.getElementById('app');
if (place === null) throw new Error('index.html has no element with the id app');
effect(() => { document.documentElement.dataset['theme'] = dark.value ? 'dark' : 'light'; });
effect(() => { applyChoices(address.value.query); });
startHealthPoll();
startLiveFeed();
startAlarmBadge();
// Removes the notice that the pages are loading; otherwise render adds to it.
place.replaceChildren();
render(<App />, place);
