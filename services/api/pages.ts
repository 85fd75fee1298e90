import { basename, dirname } from 'node:path';
import express from 'express';
import type { RequestHandler } from 'express';

/**
 * The built pages. Files that the build names by their content are cached for good; everything else is requested again, so
 * that a new version shows at the next visit.
 */
export function pages(folder: string): RequestHandler {
  return express.static(folder, {
    extensions: ['html'],
    redirect: false,
    setHeaders(response, file) {
      const hashed = basename(dirname(file)) === 'assets' && /-[\w-]{8,}\.\w+$/.test(file);
      response.setHeader('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
}
