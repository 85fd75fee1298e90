/** Reads a feed of server-sent events (HTML standard, section 9.2) as far as this service writes it; `take` gets name and data. */
export function readEvents(url: string, take: (event: string, data: string) => void): { stop(): void } {
  const ending = new AbortController();
  const read = async (): Promise<void> => {
    const answer = await fetch(url, { headers: { accept: 'text/event-stream' }, signal: ending.signal });
    if (!answer.ok || answer.body === null) throw new Error(`the live feed answered ${answer.status}`);
    const decoder = new TextDecoder();
    let text = '';
    for await (const chunk of answer.body as unknown as AsyncIterable<Uint8Array>) {
      text += decoder.decode(chunk, { stream: true });
      for (let end = text.indexOf('\n\n'); end !== -1; end = text.indexOf('\n\n')) {
        const lines = text.slice(0, end).split('\n');
        text = text.slice(end + 2);
        const field = (name: string): string => lines.filter((line) => line.startsWith(`${name}: `)).map((line) => line.slice(name.length + 2)).join('\n');
        take(field('event'), field('data'));
      }
    }
  };
  read().catch((error: unknown) => {
    if (!ending.signal.aborted) throw error;
  });
  return {
    stop: () => {
      ending.abort();
    },
  };
}
