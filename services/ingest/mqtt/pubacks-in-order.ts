/** Finished places are removed when there are this many of them. */
const MOST_GONE = 1_024;

/**
 * Runs functions in the order in which they entered, each once it is due, in whatever order they become due. MQTT requires acknowledgements in the
 * order of the messages (3.1.1, [MQTT-4.6.0-2]), while commits may finish in any.
 *
 * @returns `enter(run)` takes a place in the row and returns the function that makes it due; calling that again does nothing.
 */
export function pubacksInOrder(): { enter(run: () => void): () => void } {
  let row: { due: boolean; readonly run: () => void }[] = [];
  let gone = 0;
  return {
    enter(run) {
      const place = { due: false, run };
      row.push(place);
      return () => {
        place.due = true;
        for (let head = row[gone]; head?.due === true; head = row[gone]) {
          gone += 1;
          head.run();
        }
        if (gone < MOST_GONE) return;
        row = row.slice(gone);
        gone = 0;
      };
    },
  };
}
