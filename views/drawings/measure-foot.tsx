/** Which measure of the foot a drawing shows the tape for. */
export type FootMeasure = 'length' | 'ballGirth' | 'heelAnkleGirth';

const footOutline =
  'M52 6C52 26 50 44 45 58C38 70 30 80 30 92C30 102 38 107 48 107L112 107C122 105 130 104 138 106L172 107C186 107 192 101 190 94C188 86 178 82 166 79C148 74 132 64 118 52C108 43 102 30 102 6';

const words: Readonly<Record<FootMeasure, string>> = {
  length: 'A foot from the side: the length from the back of the heel to the end of the longest toe',
  ballGirth: 'A foot from the side: the tape goes round the ball, the widest part, over the joint of the big toe',
  heelAnkleGirth:
    'A foot from the side: the tape goes round the back of the heel and over the front of the ankle where the foot bends, slanting; not level round the ankle',
};

/** Where the tape goes: a solid line on this side of the foot, a dashed one on the far side. */
const Tape = ({ measure }: { readonly measure: FootMeasure }) => {
  if (measure === 'length') {
    return (
      <g class="dimension">
        <path d="M30 96V126M191 94V126M30 122H191" />
      </g>
    );
  }
  const [near, far] =
    measure === 'ballGirth'
      ? ['M137 106C126 94 132 76 148 72', 'M137 106C150 98 156 84 148 72']
      : ['M33 101C52 102 100 78 113 48', 'M33 101C38 76 82 46 113 48'];
  return (
    <>
      <path class="tape-far" d={far} />
      <path class="tape" d={near} />
    </>
  );
};

/** A foot from the side in ink lines, with the tape for one measure. */
export const MeasureFoot = ({ measure }: { readonly measure: FootMeasure }) => (
  <svg class="drawing measure-drawing" viewBox="20 0 182 130" role="img" aria-label={words[measure]}>
    <path class="outline" d={footOutline} fill="none" />
    <path class="foot-line" d="M176 88C182 88 186 91 187 95" fill="none" />
    <Tape measure={measure} />
  </svg>
);
