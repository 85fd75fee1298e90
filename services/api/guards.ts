import type { RequestHandler } from 'express';
import { problemError } from './problem-error.js';

const loopbackHost = /^(localhost|127\.\d{1,3}\.\d{1,3}\.\d{1,3}|\[::1\])(:\d{1,5})?$/i;

/**
 * Answers only to names of this machine, so that a page from elsewhere cannot point a name of its own at it and read
 * along (DNS rebinding).
 */
export const loopbackOnly: RequestHandler = (request, _response, next) => {
  const host = request.headers.host ?? '';
  next(loopbackHost.test(host) ? undefined : problemError(403, 'Host: must be localhost, 127.0.0.1 or [::1]; nobody has an account here, so only this machine is answered.'));
};

/** Lets a browser write only from our own pages. Clients other than browsers send neither header. */
export const sameOriginWrites: RequestHandler = (request, _response, next) => {
  if (isRead(request.method)) {
    next();
    return;
  }
  const { origin, host } = request.headers;
  // Fetch Metadata, section 2.1: `none` means an action of the user, such as typing the address.
  const site = request.headers['sec-fetch-site'];
  const foreignSite = site !== undefined && site !== 'same-origin' && site !== 'none';
  const foreignOrigin = origin !== undefined && origin.toLowerCase() !== `http://${host ?? ''}`.toLowerCase();
  next(foreignSite || foreignOrigin ? problemError(403, 'Origin: pages of another origin may not write here.') : undefined);
};

/** Refuses a path that cannot be decoded, before another layer interprets it in its own way. */
export const readablePath: RequestHandler = (request, _response, next) => {
  decodeURIComponent(request.path);
  next();
};

export function isRead(method: string): boolean {
  return method === 'GET' || method === 'HEAD';
}
