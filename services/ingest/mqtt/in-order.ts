/**
 * Runs things in the order in which they entered, each once it is due, however the due ones come in. MQTT wants
 * acknowledgements in the order of the messages (3.1.1, [MQTT-4.6.0-2]), while commits answer in any.
 *
 * @returns `enter(run)` takes a place in the row and gives the function that says it is due; calling it again does nothing.
 */
export function inOrder(): { enter(run: () => void): () => void } {
  const row: { due: boolean; readonly run: () => void }[] = [];
  return {
    enter(run) {
      const place = { due: false, run };
      row.push(place);
      return () => {
        place.due = true;
        for (let head = row[0]; head?.due === true; head = row[0]) {
          row.shift();
          head.run();
        }
      };
    },
  };
}
