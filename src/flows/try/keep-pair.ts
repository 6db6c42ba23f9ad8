import type { Problem, Result } from '#core/shared/problem.ts';
import { refuse, succeed } from '#core/shared/problem.ts';
import { ageSystem } from '#core/sizing/stored-size.ts';
import type { Workshop } from '#db/open.ts';
import type { Tx } from '#db/store.ts';
import { createSwatch } from '#db/stores/gauge.ts';
import { createOrder, type NewLine } from '#db/stores/orders.ts';
import { createFoot } from '#db/stores/sizing.ts';
import { beginOwn } from '#flows/begin/begin-own.ts';
import { isEmpty } from '#flows/begin/is-empty.ts';
import { readPlan, type WorkshopPlan } from '#flows/read-plan.ts';
import { guessedYarns } from '#flows/try/guessed-yarns.ts';
import { type TriedPair, type TryValues, tryPair } from '#flows/try/try-pair.ts';

const noOutlet: Problem = {
  code: 'noOutlet',
  path: '',
  message: 'There is no way out for an order yet: add one under Costs and prices.',
};

/** In the workshop just begun, the usual yarn that was tried is the yarn of the same name. */
function inWorkshop(values: TryValues, current: WorkshopPlan): TryValues {
  const guessed = guessedYarns.find((yarn) => yarn.value === values.yarn);
  const name = guessed?.strands[0]?.name;
  const stored = current.rows.yarns.find((yarn) => yarn.name === name);
  return stored ? { ...values, yarn: String(stored.id) } : values;
}

async function lineFor(tx: Tx, tried: TriedPair, current: WorkshopPlan): Promise<NewLine> {
  const { choice } = tried.size;
  const { styles } = current.rows;
  const { versionId } = tried.shape.style;
  const styleId = (styles.find((style) => style.currentVersionId === versionId) ?? styles[0]!).id;
  const colours = tried.shape.style.body.roles.flatMap((role) =>
    tried.yarn.strands.map((_, strand) => ({ role: role.name, strand, yarnColourId: tried.yarn.yarnColourId! })),
  );
  const line = { styleId, fit: 'usual' as const, quantity: 1, colours };
  if (choice.by === 'label') {
    return { ...line, person: tried.person, sizeSystem: choice.system, sizeLabel: choice.label.trim() };
  }
  if (choice.by === 'age') {
    return { ...line, person: tried.person, sizeSystem: ageSystem, sizeLabel: String(choice.years) };
  }
  const foot = await createFoot(tx, {
    person: tried.person,
    leftLengthMm: choice.lengthMm,
    rightLengthMm: choice.lengthMm,
  });
  return { ...line, footId: foot.id };
}

/**
 * Keeps a tried pair as an order; in an empty workshop it begins the workshop's own season first. Stitches that were
 * typed become the workshop's first swatch.
 *
 * @returns the number of the new order's row
 */
export async function keepPair(workshop: Workshop, now: Date, values: TryValues): Promise<Result<{ orderId: number }>> {
  const before = await readPlan(workshop, now);
  const isFirst = isEmpty(before.rows);
  const checked = tryPair(values, isFirst ? null : before);
  if (!checked.ok) return checked;
  if (isFirst) {
    const begun = await beginOwn(workshop, { purpose: before.settings.purpose });
    if (!begun.ok) return begun;
  }
  const current = await readPlan(workshop, now);
  const tried = tryPair(inWorkshop(values, current), current);
  if (!tried.ok) return tried;
  const outlets = current.rows.outlets.filter((outlet) => !outlet.isClosed);
  const outlet = outlets.find((each) => each.kind === 'order') ?? outlets[0];
  if (!outlet) return refuse(noOutlet);
  if (tried.value.yarn.yarnColourId === null) {
    return refuse({
      code: 'noColour',
      path: 'yarn',
      message: 'This yarn has no colour yet: add one on the yarn shelf.',
    });
  }
  return await workshop.store.write('try: keep the pair as an order', async (tx) => {
    const { gauge } = tried.value;
    const yarn = tried.value.yarn.strands[0]!;
    if (gauge) {
      await createSwatch(tx, {
        yarnId: yarn.id,
        strands: tried.value.yarn.strands.length,
        fabric: 'stocking',
        stitches: gauge.stitchesPer10Cm,
        rows: gauge.rowsPer10Cm,
        widthMm: 100,
        heightMm: 100,
        isWashed: gauge.isWashed,
        madeDay: current.today,
      });
    }
    const line = await lineFor(tx, tried.value, current);
    const order = await createOrder(tx, {
      outletId: outlet.id,
      state: 'agreed',
      createdDay: current.today,
      lines: [line],
    });
    return succeed({ orderId: order.id });
  });
}
