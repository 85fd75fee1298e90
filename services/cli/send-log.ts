import { createReadStream } from 'node:fs';
import { request } from 'node:http';

/**
 * Posts a log to the service, piece by piece. Parts that are not UTF-8 are sent as U+FFFD: names in columns that nobody reads may be written
 * in another encoding. Rejects if the file cannot be read or nobody answers; an answer that arrives before everything is sent is the answer.
 */
export function sendLog(url: string, file: string): Promise<{ readonly status: number; readonly text: string }> {
  return new Promise((resolve, reject) => {
    const log = createReadStream(file, { encoding: 'utf8' });
    const posted = request(url, { method: 'POST', headers: { 'content-type': 'text/csv' } });
    let answered = false;
    posted.once('response', (response) => {
      answered = true;
      log.destroy();
      let text = '';
      response.setEncoding('utf8').on('data', (part: string) => (text += part));
      response.once('error', reject).once('end', () => {
        posted.destroy();
        resolve({ status: response.statusCode ?? 0, text });
      });
    });
    posted.on('error', (error) => {
      log.destroy();
      if (!answered) reject(error);
    });
    log.once('error', reject).on('data', (part) => {
      if (!posted.write(part)) log.pause();
    });
    posted.on('drain', () => log.resume());
    log.once('end', () => posted.end());
  });
}
