import type { IncomingMessage, ServerResponse } from 'node:http';

/** A body up to this size may be read to its end and discarded, so that the connection can be used again, bytes. */
const smallBody = 1_048_576;
/** How long the rest of a body is read and discarded, ms: closing over it would reset the connection, and the answer might be lost. */
const drainFor = 1_000;

/** Whether a request is answered while a long body, or one of unknown length, is still arriving. */
export function isBodyArriving(request: IncomingMessage): boolean {
  if (request.complete) return false;
  return request.headers['transfer-encoding'] !== undefined || Number(request.headers['content-length'] ?? 0) > smallBody;
}

/** Sends an answer at once, and closes the connection instead of reading the body to its end. */
export function answerAndClose(request: IncomingMessage, response: ServerResponse, text: string): void {
  response.setHeader('connection', 'close');
  response.setHeader('content-length', Buffer.byteLength(text));
  response.write(text);
  const end = (): void => {
    clearTimeout(timer);
    response.end();
  };
  const timer = setTimeout(end, drainFor);
  request.once('end', end).once('close', end).resume();
}
