import type { Piece } from '../arcs/arc-state.js';
import { sentTravelAt, signedTravel, type Motion } from '../arcs/motion.js';
import { rowLength } from '../rows/row.js';
import type { RunState } from './run-state.js';

/** The part of a piece that lies in the current row; `begins` says whether the piece begins in it. */
export interface TakenPiece {
  readonly piece: Piece;
  readonly from: number;
  readonly to: number;
  readonly begins: boolean;
}

/** A jump while no arc burns concerns the run only if an arc is lit again. */
export function noteJump(run: RunState, jump: boolean, burning: boolean): void {
  if (burning) {
    if (jump || run.jumpInDark) run.travelJump = true;
    run.jumpInDark = false;
  } else if (jump) {
    run.jumpInDark = true;
  }
}

/** The start from which places within a row are counted: mm travelled at `start`, and whether estimated motion counts. */
export interface RowMotion {
  readonly motion: Motion;
  readonly start: number;
  readonly travelled: number;
  readonly estimated: boolean;
}

function placeAt({ motion, start, travelled, estimated }: RowMotion, time: number): number {
  return travelled + signedTravel(motion, start, time, estimated);
}

/** Records the restarts, gaps and ends of one arc. */
export function notePieces(run: RunState, arc: number, pieces: readonly TakenPiece[], at: RowMotion): void {
  const { confirmed } = at.motion;
  for (const { piece, from, to, begins } of pieces) {
    if (piece.kind === 'off') continue;
    const own = (run.arcs[arc] ??= { onTo: piece.from, outAt: null, outTravelled: 0, outConfirmed: false, outTravel: Number.NaN });
    if (piece.kind === 'out') {
      own.outAt = piece.from;
      own.outTravelled = placeAt(at, piece.from);
      own.outConfirmed = confirmed;
      own.outTravel = sentTravelAt(at.motion, piece.from);
    } else if (piece.kind === 'gap') {
      noteGap(run, piece, begins, from, to, at);
    } else {
      if (begins && piece.lit && own.outAt !== null) {
        run.restarts.push({
          arc, stoppedAt: own.outAt, stoppedTravelled: own.outTravelled,
          restartedAt: piece.from, restartedTravelled: placeAt(at, piece.from), positionConfirmed: confirmed && own.outConfirmed,
        });
      }
      own.onTo = to;
      own.outAt = null;
    }
  }
}

/** Where its arcs were cut off by another assignment, a run that is lit again later has stopped. `rowStart`: of the row in which that one begins. */
export function noteCutOff(run: RunState, motion: Motion, rowStart: number): void {
  const reach = run.lastOn > rowStart ? Math.min(rowStart + rowLength, motion.knownTo ?? Infinity) : rowStart;
  for (const own of Object.values(run.arcs)) {
    if (own.outAt !== null) continue;
    run.cutOff = true;
    own.outAt = own.onTo;
    own.outTravelled = run.travelled - signedTravel(motion, own.onTo, Math.max(own.onTo, reach), false);
    own.outConfirmed = motion.confirmed;
    own.outTravel = sentTravelAt(motion, own.onTo);
  }
}

/** Records a gap; one that spans many rows is a single gap. */
function noteGap(run: RunState, piece: Piece, begins: boolean, from: number, to: number, at: RowMotion): void {
  const place = begins ? -1 : run.gaps.findLastIndex((gap) => gap.from === piece.from && gap.to === from);
  const open = run.gaps[place];
  if (open !== undefined) run.gaps[place] = { ...open, to, toTravelled: placeAt(at, to) };
  else run.gaps.push({ from, to, fromTravelled: placeAt(at, from), toTravelled: placeAt(at, to) });
}
