import type { BenchPart } from './bench-part.js';
export const peer: BenchPart = () => Promise.resolve([]);
