import { StyleFault } from '#core/styles/fault.ts';
import type { Check, EdgeName, StyleBody } from '#core/styles/style.ts';

/** Lengths of the edges known so far, mm, by name. */
export type Edges = Map<EdgeName, number>;

/**
 * The length of some edges end to end.
 *
 * @throws {StyleFault} when an edge is not there
 * @example edgeLength(['foot.left.open', 'foot.right.open'], new Map([['foot.left.open', 120], ['foot.right.open', 122]]), 'checks') // => 242
 */
export function edgeLength(names: readonly EdgeName[], edges: Edges, path: string): number {
  let sum = 0;
  for (const name of names) {
    const length = edges.get(name);
    if (length === undefined) throw new StyleFault(path, `There is no edge called ${name} here.`);
    sum += length;
  }
  return sum;
}

/**
 * Whether a check holds: a stretched edge passes the body, or two edges are near enough alike.
 *
 * @param neededMm the body measure to pass, safety included
 */
export function holds(check: Check, edges: Edges, neededMm: number): boolean {
  const path = `checks.${check.name}`;
  if ('ratio' in check) {
    const ratio = edgeLength(check.ratio[0], edges, path) / edgeLength(check.ratio[1], edges, path);
    return ratio >= check.between[0] && ratio <= check.between[1];
  }
  return edgeLength(check.edge, edges, path) * check.stretch >= neededMm - 1e-9;
}

/**
 * The check of a name; undefined when none was named.
 *
 * @throws {StyleFault} when the style has no check of that name
 */
export function checkNamed(body: Pick<StyleBody, 'checks'>, name: string | undefined, path: string): Check | undefined {
  if (name === undefined) return undefined;
  const check = body.checks.find((each) => each.name === name);
  if (!check) throw new StyleFault(path, `There is no check called ${name}.`);
  return check;
}

/** The edges a check looks at. */
export function edgesOfCheck(check: Check): readonly EdgeName[] {
  return 'ratio' in check ? check.ratio.flat() : check.edge;
}
