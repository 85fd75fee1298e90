import { createServer, type AddressInfo } from 'node:net';
import { Aedes } from 'aedes';
import { tellParent } from './bench-child.js';

/** What the broker library can do at most: it acknowledges everything at once. */
const broker = await Aedes.createBroker();
const server = createServer((socket) => { broker.handle(socket); });
server.listen(0, '127.0.0.1', () => { tellParent((server.address() as AddressInfo).port); });
