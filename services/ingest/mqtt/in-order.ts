/** Finished places are removed when there are this many of them. */
const MOST_GONE = 1_024;

/**
 * Runs things in the order in which they entered, each once it is due, however the due ones come in. MQTT wants
 * acknowledgements in the order of the messages (3.1.1, [MQTT-4.6.0-2]), while commits answer in any.
 *
 * @returns `enter(run)` takes a place in the row and gives the function that says it is due; calling it again does nothing.
 */
export function inOrder(): { enter(run: () => void): () => void } {
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
