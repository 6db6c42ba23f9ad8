import type { Child } from 'hono/jsx';
import type { Mark as MarkName } from '#core/shared/figure.ts';
import { Caution } from '#views/components/caution.tsx';
import { Mark } from '#views/components/mark.tsx';
import { Page } from '#views/layout.tsx';

type HandStep = {
  readonly term: string;
  /** With the numbers in it, as one writes it on paper. */
  readonly work: string;
  readonly value: number;
  readonly digits: number;
  readonly unit: string;
  readonly mark: MarkName;
  readonly why?: string;
};

const step = (
  term: string,
  work: string,
  value: number,
  digits: number,
  unit: string,
  mark: MarkName,
  why?: string,
): HandStep => ({ term, work, value, digits, unit, mark, ...(why === undefined ? {} : { why }) });

/**
 * One pair worked by hand with a pocket calculator, not by this program: a woman's EU 38 in yarn of 1000 tex (100 m in
 * 100 g), one strand, washed gauge 13 x 18 in 10 cm, a short cuff in a second colour, balls of 100 g. Each value is
 * rounded for showing alone; a test holds the program to every one of them.
 */
export const handPair = {
  footLength: step('Foot length', '(38 − 2) × 20 / 3', 240, 1, 'mm', 'published', 'what EU sizes are defined by'),
  ballGirth: step(
    'Around the ball',
    '0.57317 × 240 + 86.942',
    224.5,
    1,
    'mm',
    'published',
    'a line through the feet of 1,986 women',
  ),
  heelGirth: step('Around heel and ankle', '0.98833 × 240 + 66.903', 304.1, 1, 'mm', 'published', 'the same survey'),
  needed: step(
    'Heel to pass',
    '304.1 + 16',
    320.1,
    1,
    'mm',
    'ours',
    'a girth that was not measured gets 16 mm for safety',
  ),
  widthWished: step(
    'Width wished',
    '224.5 × (0.93 + 0)',
    208.8,
    1,
    'mm',
    'ours',
    'thick yarn: 7 % smaller than the foot; usual fit',
  ),
  castOn: step(
    'Stitches',
    '208.8 × 13 / 100 + 2 × ½ = 28.1',
    28,
    0,
    'stitches',
    'trade',
    'the seam takes half a stitch an edge',
  ),
  footRows: step(
    'Rows before the toe',
    '240 × 18 / 100 − 1 − 1 = 41.2, nearest odd',
    41,
    0,
    'rows',
    'trade',
    'the cast-on and the toe row lie within the length',
  ),
  allRows: step('Rows of the foot, cast-on counted', '1 + 41 + 1', 43, 0, 'rows', 'ours'),
  toe: step('Toe', '28 / 2', 14, 0, 'stitches', 'trade', 'two together across once; 14 are few enough to draw up'),
  width: step('Flat width', '(28 − 1) × 100 / 13', 207.7, 1, 'mm', 'ours'),
  length: step('Flat length', '43 × 100 / 18', 238.9, 1, 'mm', 'ours'),
  heelToToe: step('Heel to toe, lying flat', '238.9 − 0.06 × 207.7', 226.4, 1, 'mm', 'ours', 'drawing up shortens it'),
  easePercent: step('Ease really got', '207.7 / 224.5 − 1', -7.5, 1, '%', 'ours'),
  mark: step('Mark', '43 × ½ = 21.5', 22, 0, 'rows', 'trade', 'the top seam closes half the length'),
  opening: step('Opening edge', '2 × 22 × 100 / 18', 244.4, 1, 'mm', 'ours'),
  openingStretched: step(
    'Opening stretched',
    '244.4 × 1.35, more than 320.1',
    330,
    1,
    'mm',
    'ours',
    'the heel passes: no row more is needed',
  ),
  cuffStitches: step(
    'Cuff stitches',
    '244.4 × 13 / 100 + 1 = 32.8, nearest of 4 × whole + 2',
    34,
    0,
    'stitches',
    'trade',
    '2x2 rib with an edge stitch each side',
  ),
  cuffFlat: step('Cuff, flat width', '(34 − 1) × 100 / 13', 253.8, 1, 'mm', 'ours'),
  cuffStretched: step(
    'Cuff stretched',
    '253.8 × 1.37, more than 320.1',
    347.8,
    1,
    'mm',
    'ours',
    'from one published rib test',
  ),
  cuffHeight: step('Cuff height', '0.2 × 240', 48, 1, 'mm', 'ours'),
  ribRows: step(
    'Cuff rows in the cuff colour',
    '48 × 18 / 100 − 2 = 6.6, nearest even',
    6,
    0,
    'rows',
    'ours',
    'after two rows in the foot colour that hide the join',
  ),
  cuffRows: step('Rows of the cuff, cast-on counted', '1 + 2 + 6', 9, 0, 'rows', 'ours'),
  loop: step(
    'Yarn in one stitch',
    '√(21.6 / (1.3 × 1.8))',
    3.038,
    3,
    'cm',
    'published',
    'loop geometry of washed plain knitting',
  ),
  footLoops: step('Stitches of the foot rows', '28 × 41', 1148, 0, 'stitches', 'ours'),
  footMetres: step(
    'Foot colour, one slipper',
    '0.85 cast-on row + 0.80 its tail + 34.88 rows + 0.51 toe + 0.20 draw-up + 0.21 heel seam + 0.23 top seam + 1.03 cuff cast-on row + 0.93 its tail + 2.27 join rows + 0.15 end + 0.81 sewing the cuff on',
    42.87,
    2,
    'm',
    'ours',
    'tails, seams and ends by rules of knitting tuition',
  ),
  cuffMetres: step(
    'Cuff colour, one slipper',
    '6.82 rib + 0.15 end + 1.46 bind-off + 0.10 back seam',
    8.53,
    2,
    'm',
    'ours',
  ),
  footGrams: step(
    'Foot colour, the pair',
    '2 × 42.87 × (1 + 1 / 100 × 0.3) × 1000 / 1000',
    86.0,
    1,
    'g',
    'published',
    '30 cm more for each ball finished; 1000 tex is 1000 g in 1000 m',
  ),
  cuffGrams: step('Cuff colour, the pair', '2 × 8.53 × 1.003', 17.1, 1, 'g', 'published'),
  grams: step('Yarn in the pair', '86.0 + 17.1', 103.1, 1, 'g', 'ours'),
  minutes: step(
    'Time for the pair',
    '102.04 stocking stitch + 28.44 rib + 11.48 casting on + 5.19 two together + 5.04 binding off + 5.00 turning + 8 setting up + 2 changing colour + 3 drawing up + 26.22 seams + 24 ends',
    220.41,
    2,
    'min',
    'ours',
    '25 stitches a minute, a tenth slower on 7 mm needles',
  ),
  cost: step(
    'What it costs',
    '103.11 × €0.062 + €1.05 + 220.41 / 60 × €12.00 + 220.41 / 60 × €1.00',
    55.2,
    2,
    '€',
    'trade',
    'yarn at €6.20 for 100 g, grip line and label, a wage, running costs',
  ),
  price: step(
    'Price',
    '(55.20 + 0.10) / (1 − 0.20 − 0.02) = 70.90, up to whole euros',
    71,
    2,
    '€',
    'trade',
    'a margin of 20 % of the price, a card fee of 2 % and 10 cents, no tax',
  ),
  moneyBack: step('Gets my money back', '(11.12 + 0.10) / (1 − 0.02)', 11.45, 2, '€', 'trade', 'all but the work'),
  wage: step('Pays my wage', '(55.20 + 0.10) / (1 − 0.02)', 56.43, 2, '€', 'trade'),
  hour: step(
    'An hour earns',
    '(69.48 − 11.12) × 60 / 220.41',
    15.89,
    2,
    '€',
    'ours',
    '71.00 less 1.52 of fees leaves 69.48',
  ),
} satisfies Readonly<Record<string, HandStep>>;

function valueText({ value, digits, unit }: HandStep): string {
  const number = Math.abs(value).toLocaleString('en-GB', { minimumFractionDigits: 0, maximumFractionDigits: digits });
  const sign = value < 0 ? '−' : '';
  if (unit === '€') return `€${Math.abs(value).toFixed(2)}`;
  return unit === '%' ? `${sign}${number}%` : `${sign}${number}\u00a0${unit}`;
}

const marks: readonly { readonly mark: MarkName; readonly words: string }[] = [
  { mark: 'published', words: 'a book, a survey or a standard says so; where we read it second-hand, that is said.' },
  { mark: 'trade', words: 'common practice among knitters or in costing, with no source worth naming.' },
  { mark: 'memory', words: 'said so often that we took it over; we found nobody who measured it.' },
  { mark: 'ours', words: 'our own choice, or plain arithmetic. Most are settings: change them when you know better.' },
  { mark: 'yours', words: 'entered, chosen or measured in this workshop. It always comes first.' },
];

const Section = ({ title, children }: { readonly title: string; readonly children?: Child }) => (
  <section>
    <h2>{title}</h2>
    {children}
  </section>
);

/** The method in short, one pair worked by hand, and what to be careful about. */
export const WorkedPairPage = () => (
  <Page title="How the numbers come about" where="The method in short">
    <p>
      Every number in this program can be opened. It then shows the numbers it came from, the rule in words, who says
      so, and how sure it is. The same rule that planned the pair explains it.
    </p>
    <Section title="From a foot to a price">
      <ol>
        <li>
          A size is turned into the length of a foot, and the length into girths, unless the foot was measured. Sizes
          differ between shoemakers; a measured foot is surer than any label.
        </li>
        <li>
          Girth and length, with the ease and the gauge of the hand that knits, become whole stitches and rows. Two
          hands get different counts for the same slipper.
        </li>
        <li>
          Each stitch takes a length of yarn: from a weighed square, else from the gauge. Stitches times that length,
          with tails, seams and ends, are metres; metres and the thickness of the yarn are grams.
        </li>
        <li>
          Stitches over a knitter’s speed, with sewing up, are minutes; minutes and her hours are days. A weighed swatch
          and a speed of one’s own make them surer.
        </li>
        <li>
          Yarn, other materials, work and running costs are what a pair costs. The price leaves the margin after fees
          and tax; roundings go up, so that none eats it.
        </li>
        <li>
          Where the settings ask for it, a pair also pays its share of the balls opened for it: 40 g left of two balls
          at €0.06 a gram are €2.40, half of it for each of two like pairs. And where one pair in twenty goes wrong,
          nineteen good ones pay for twenty.
        </li>
        <li>
          A shop on sale or return keeps its share of what the buyer pays, like a fee. A shop that buys pays the price
          itself, and may ask twice as much.
        </li>
        <li>
          Amounts to buy have a range. “Enough 9 times in 10” is the likely amount and 1.28 times its spread: what a
          whole hand or yarn gets wrong adds up, what single pairs get wrong evens out.
        </li>
      </ol>
    </Section>
    <Section title="Where numbers come from">
      <dl class="working-lines">
        {marks.map(({ mark, words }) => (
          <div>
            <dt>
              <Mark mark={mark} />
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p>
        The sources in short: shoe sizes by ISO/TS 19407:2015, read second-hand; girths of feet by our own lines through
        the public measurements of the 2012 survey of American soldiers; children’s feet by six published widths, the
        least sure of all; yarn thickness in tex, ISO 1144; yarn categories by the Standard Yarn Weight System; yarn in
        a stitch by Munden’s loop geometry of 1959; tails and ends by knitting tuition; costing by an open textbook of
        accounting.
      </p>
    </Section>
    <Section title="One pair worked by hand">
      <p>
        A woman’s EU 38 in bulky yarn, 100 m in 100 g, one strand on 7 mm needles, with 13 stitches and 18 rows in 10 cm
        after washing, a short cuff in a second colour, balls of 100 g. Worked on paper with a calculator; each number
        is rounded only where it is shown.
      </p>
      <dl class="working-lines hand-pair">
        {Object.values<HandStep>(handPair).map((each) => (
          <div>
            <dt>{each.term}</dt>
            <dd>
              {each.work} = <strong>{valueText(each)}</strong> <Mark mark={each.mark} />
              {each.why ? <small class="source">{each.why}</small> : null}
            </dd>
          </div>
        ))}
      </dl>
    </Section>
    <Section title="Take care">
      <Caution title="Smooth soles slip">
        Knitted soles are slippery on hard floors. Say so, and offer a grip line; it has a place in the costs.
      </Caution>
      <Caution title="For babies">
        Nothing small and nothing tied on a baby’s pair, and no yarn whose fibre you do not know.
      </Caution>
      <ul>
        <li>Fibres may irritate the skin: say what is in the yarn.</li>
        <li>Long knitting strains hands. Pauses are part of the plan; more than four hours a day is flagged.</li>
        <li>
          Rules on tax, on the safety of what is sold and on its label are local. Check your own, or ask somebody
          licensed to advise.
        </li>
        <li>All of this is an estimate to plan with, not advice.</li>
      </ul>
    </Section>
  </Page>
);
