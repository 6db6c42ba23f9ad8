import type { EdgeName, Section, StyleBody } from '#core/styles/style.ts';

type Role = StyleBody['roles'][number];

/**
 * A style's colours, the one its first piece takes the gauge from leading: the colour that forms ask for first.
 *
 * @example rolesMainFirst({ roles: [{ name: 'cuff', words: 'Cuff' }, { name: 'foot', words: 'Foot' }], pieces: [{ gaugeOf: 'foot' }] }).map((role) => role.name) // => ['foot', 'cuff']
 */
export function rolesMainFirst(body: {
  readonly roles: readonly Role[];
  readonly pieces: readonly { readonly gaugeOf: string }[];
}): readonly Role[] {
  const main = body.pieces[0]?.gaugeOf;
  const isMain = (role: Role) => role.name === main;
  return [...body.roles.filter(isMain), ...body.roles.filter((role) => !isMain(role))];
}

/** The colours of one step: its own, and its stripes'. */
function coloursOfStep(section: Section): string[] {
  const other = section.do === 'work' ? section.stripes?.colour : undefined;
  return other === undefined ? [section.colour] : [section.colour, other];
}

/**
 * The roles that are knitted: without a cuff, what only the cuff would have used decides nothing.
 *
 * @param cuffHeightMm 0 leaves optional pieces out
 */
export function rolesKnitted(body: StyleBody, cuffHeightMm: number): string[] {
  const roles = body.roles.map((role) => role.name);
  const leftOut = body.pieces.filter((piece) => piece.isOptional && cuffHeightMm === 0);
  if (leftOut.length === 0) return roles;
  const isOfPiece = (edge: EdgeName) => leftOut.some((piece) => edge.startsWith(`${piece.name}.`));
  const knitted = body.pieces.filter((piece) => !leftOut.includes(piece));
  const joins = body.joins.filter((join) => ![join.fold ?? '', ...(join.edges ?? []).flat()].some(isOfPiece));
  const used = new Set([
    ...knitted.flatMap((piece) => [piece.gaugeOf, ...piece.sections.flatMap(coloursOfStep)]),
    ...joins.map((join) => join.colour),
  ]);
  return roles.filter((role) => used.has(role));
}
