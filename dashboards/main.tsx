import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './shared/theme.css';
import './shared/parts.css';
import { App } from './app.js';
import { startHealthPoll } from './shared/health.js';
import { startLiveFeed } from './shared/live-feed.js';

const place = document.getElementById('app');
if (place === null) throw new Error('index.html has no element with the id app');
startHealthPoll();
startLiveFeed();
render(<App />, place);
