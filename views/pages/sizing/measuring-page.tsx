import { FootRuler } from '#views/drawings/foot-ruler.tsx';
import { type FootMeasure, MeasureFoot } from '#views/drawings/measure-foot.tsx';
import { unitOf } from '#views/format.ts';
import { Page, type Purpose } from '#views/layout.tsx';

type Step = { readonly measure: FootMeasure; readonly title: string; readonly how: string };

const steps: readonly Step[] = [
  {
    measure: 'length',
    title: 'Length',
    how: 'Stand on the foot, heel against a wall. Measure along the floor from the wall to the end of the longest toe, which need not be the big one. Or stand on the ruler of this sheet.',
  },
  {
    measure: 'ballGirth',
    title: 'Round the ball',
    how: 'Standing, lay the tape round the widest part of the foot, over the joint of the big toe and that of the little toe. Snug, not pulled.',
  },
  {
    measure: 'heelAnkleGirth',
    title: 'Round heel and ankle',
    how: 'Lay the tape round the back of the heel, low down, and over the front of the ankle, where the foot bends. It runs slanting. It is not the ankle measured level: it is about half as much again.',
  },
];

/** *How to measure feet*: a sheet to print or to send, with boxes for both feet and a ruler to stand on. */
export const MeasuringPage = ({ purpose }: { readonly purpose: Purpose }) => {
  const unit = unitOf('lengthMm');
  return (
    <Page title="Two feet to measure" where={<a href="/sizing">Styles and sizes</a>} current="sizing" purpose={purpose}>
      <p class="no-print">
        Print this from the menu of your browser at 100 % (“actual size”), on A4 or Letter, or save it as a PDF and send
        it. It takes two pages: what to measure, and a ruler.
      </p>
      <p class="print-only">
        Measure both feet in the evening, in bare feet or thin socks, standing. They are often not alike, and slippers
        can be knitted for each.
      </p>
      <table class="measure-sheet">
        <caption class="visually-hidden">Measures of both feet</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Left foot</th>
            <th scope="col">Right foot</th>
          </tr>
        </thead>
        <tbody>
          {steps.map(({ measure, title, how }) => (
            <tr>
              <th scope="row">
                <MeasureFoot measure={measure} />
                {title}
                <small class="block">{how}</small>
              </th>
              <td>
                <span class="blank-box" aria-label="to fill in" role="img" /> {unit}
              </td>
              <td>
                <span class="blank-box" aria-label="to fill in" role="img" /> {unit}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        The length is needed; the two girths make the fit surer. Where they are left empty they are estimated from the
        length, and opening and cuff get some room to spare.
      </p>
      <dl class="write-lines">
        {['For whom', 'Woman, man or child (and age)', 'Colours', 'Day'].map((words) => (
          <div>
            <dt>{words}</dt>
            <dd />
          </div>
        ))}
      </dl>
      <section class="new-page">
        <h2 class="no-print">A ruler to stand on</h2>
        <p class="no-print soft">
          To scale on paper only. Feet of more than {unit === 'cm' ? '28 cm' : '11 in'}: mark heel and toe on a larger
          paper and measure between the marks.
        </p>
        <FootRuler />
      </section>
    </Page>
  );
};
