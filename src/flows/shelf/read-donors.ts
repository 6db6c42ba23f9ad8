import { gramsInOunce } from '#core/shared/measures.ts';
import { roundParts } from '#core/shared/round-parts.ts';
import { roundHalfUp } from '#core/shared/rounding.ts';
import { type DonorAccount, donorAccounts } from '#core/shelf/donors.ts';
import type { Workshop } from '#db/open.ts';
import { type LotRow, listAllMoves, listBalls } from '#db/stores/shelf.ts';
import { readShelf, type Shelf } from '#flows/shelf/read-shelf.ts';

export type DonorLot = {
  readonly lot: LotRow;
  readonly colour: string;
  readonly swatchHex: string;
  readonly yarn: string;
  readonly massMg: number;
};

/** An account in whole steps, grams or tenths of an ounce, that add up as they stand on paper. */
export type DonorSteps = {
  readonly received: number;
  readonly inPairs: number;
  readonly left: number;
  readonly waste: number;
  readonly back: number;
};

export type DonorView = {
  readonly donor: string | null;
  readonly steps: DonorSteps;
  readonly pairIds: readonly number[];
  readonly lots: readonly DonorLot[];
};

export type Donors = { readonly shelf: Shelf; readonly accounts: readonly DonorView[] };

function stepsOf({ inPairsMg, leftMg, wasteMg, backMg }: DonorAccount, stepMg: number): DonorSteps {
  const parts = roundParts([inPairsMg, leftMg, wasteMg].map((mg) => mg / stepMg));
  const [inPairs = 0, left = 0, waste = 0] = parts;
  return { received: inPairs + left + waste, inPairs, left, waste, back: roundHalfUp(backMg / stepMg) };
}

/** Every giver with what became of their yarn; a lot is given when it names who gave it, or came as a gift. */
export async function readDonors(workshop: Workshop): Promise<Donors> {
  const shelf = await readShelf(workshop);
  const [balls, moves] = await workshop.store.read((db) => db.batch([listBalls(db), listAllMoves(db)]));
  const lotOf = new Map(balls.map((ball) => [ball.id, ball.lotId]));
  const lotMoves = moves.map((move) => ({ ...move, lotId: lotOf.get(move.ballId)! }));
  const given = new Set(lotMoves.filter(({ reason }) => reason === 'given').map(({ lotId }) => lotId));
  const lots = shelf.yarns
    .flatMap(({ yarn, colours }) =>
      colours.flatMap(({ colour, lots: own }) =>
        own.map(({ lot, massMg }) => ({
          ...{ lot, massMg, colour: colour.name, swatchHex: colour.swatchHex, yarn: yarn.name },
        })),
      ),
    )
    .filter(({ lot }) => lot.donor !== null || given.has(lot.id));
  const accounts = donorAccounts(
    lots.map(({ lot }) => lot),
    lotMoves,
  );
  const stepMg = shelf.settings.unitSystem === 'metric' ? 1000 : gramsInOunce * 100;
  return {
    shelf,
    accounts: accounts.map((account) => ({
      donor: account.donor,
      steps: stepsOf(account, stepMg),
      pairIds: account.pairIds,
      lots: lots.filter(({ lot }) => account.lotIds.includes(lot.id)),
    })),
  };
}
