import type { Child } from 'hono/jsx';
import { countOf, formatMmAsCm } from '#core/shared/format.ts';
import type { PieceCounts, SectionCounts, Spec } from '#core/styles/spec.ts';
import type { StyleBody } from '#core/styles/style.ts';

type Roles = StyleBody['roles'];

function roleWords(roles: Roles, role: string): string {
  return (roles.find((each) => each.name === role)?.words ?? role).toLowerCase();
}

/** The words for a fabric's row: what a knitter does in it. */
function fabricWords(fabric: string | null): string {
  if (fabric === 'stocking') return 'stocking stitch (knit the right side, purl the wrong side)';
  if (fabric === 'rib 2x2') return 'rib: knit 2, purl 2';
  if (fabric === 'rib 1x1') return 'rib: knit 1, purl 1';
  return fabric ?? '';
}

function lastSide(section: SectionCounts): string {
  const isLastAsFirst = section.rows % 2 === 1;
  const first = section.startsOn ?? 'right side';
  const other = first === 'right side' ? 'wrong side' : 'right side';
  return isLastAsFirst ? first : other;
}

function shapingWords(section: SectionCounts): string {
  const rounds = (section.rows + 1) / 2;
  const odd = section.stitchesBefore % 2 === 1 ? 'knit one, then knit ' : 'knit ';
  const once = `Right side: ${odd}two together all across`;
  const again = rounds > 1 ? '; purl a row; knit two together all across again' : '';
  return `${once}${again}: ${section.stitchesAfter} stitches.`;
}

function stepWords(
  section: SectionCounts,
  piece: PieceCounts,
  previous: SectionCounts | undefined,
  roles: Roles,
): string {
  const isColourChange = previous !== undefined && previous.role !== section.role;
  const change = isColourChange ? `Change to the ${roleWords(roles, section.role)} colour, first row plain. ` : '';
  switch (section.do) {
    case 'pickUp':
      return `Pick up and knit ${section.stitchesAfter} stitches along the edge in the ${roleWords(roles, section.role)} colour.`;
    case 'castOn':
      return `Cast on ${section.stitchesAfter} stitches (long-tail) in the ${roleWords(roles, section.role)} colour. The cast-on counts as row 1.`;
    case 'work':
      return `${change}Work ${countOf(section.rows, 'row', 'rows')} of ${fabricWords(section.fabric)}${section.startsOn === 'wrong side' ? ', beginning with a wrong-side row' : ''}; the last is a ${lastSide(section).replace(' ', '-')} row.`;
    case 'change':
      return shapingWords(section);
    case 'drawUp':
      return `Cut the yarn at about 20 cm, draw it twice through the ${piece.lastStitches} stitches and pull tight.`;
    case 'bindOff':
      return `Bind off loosely; leave a tail for the back seam.`;
  }
}

const Steps = ({ children }: { readonly children: Child }) => <ol class="steps">{children}</ol>;

/** The making of one slipper in plain words, from its counts: each piece, then the sewing up. */
export const MakingSteps = ({ spec, body }: { readonly spec: Spec; readonly body: StyleBody }) => {
  const { measures } = spec;
  const ratio = spec.pieces[0];
  return (
    <>
      {spec.pieces.map((piece) => (
        <section>
          <h3>{`${roleWords(body.roles, piece.name)[0]!.toUpperCase()}${roleWords(body.roles, piece.name).slice(1)}, make ${body.make}`}</h3>
          <Steps>
            {piece.sections.map((section, index) => (
              <li>
                {stepWords(section, piece, piece.sections[index - 1], body.roles)}
                {piece === spec.pieces[0] && section.do === 'work' && measures.markRows > 0
                  ? ` Mark both edges at row ${measures.markRows}.`
                  : ''}
              </li>
            ))}
          </Steps>
        </section>
      ))}
      <section>
        <h3>Sewing up</h3>
        <Steps>
          <li>Fold the foot lengthways, right side out, and sew the cast-on edge together: the heel.</li>
          <li>
            {`With the drawn-up tail sew the top seam from the toe to the marks: the opening stays ${formatMmAsCm(measures.openingMm)} around.`}
          </li>
          {spec.pieces.length > 1 && ratio ? (
            <>
              <li>Sew the cuff's back seam.</li>
              <li>
                {`Pin the cuff to the opening, its seam on the heel seam, and sew: ${Math.round(ratio.stitchesPer10Cm)} cuff stitches to ${Math.round(ratio.rowsPer10Cm)} foot rows.`}
              </li>
            </>
          ) : null}
          <li>Weave in the ends.</li>
        </Steps>
      </section>
    </>
  );
};
