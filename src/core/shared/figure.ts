/** Where a number comes from, in words on the page. `yours` is entered or measured in this workshop. */
export type Mark = 'published' | 'trade' | 'memory' | 'ours' | 'yours';

/** Units a figure may carry; the formatter knows how many digits each is worth. */
export type Unit =
  | 'mm'
  | 'cm'
  | 'm'
  | 'g'
  | 'tex'
  | 'min'
  | 'h'
  | 'stitches'
  | 'rows'
  | 'loops'
  | 'per 10 cm'
  | 'per min'
  | 'ratio'
  | 'percent'
  | 'count'
  | 'cents'
  | 'cents per g'
  | 'cents per h'
  | 'size'
  | 'days'
  | 'per cm2';

export type RuleText = {
  readonly name: string;
  readonly unit: Unit;
  readonly mark: Mark;
  readonly source: string;
  /** The formula in words, `{ball girth} x (1 + {ease})`: the n-th name in braces stands for the n-th input. */
  readonly words: string;
};

/** A formula with its words. The formula stays a plain function of numbers. */
export type Rule<A extends readonly number[]> = RuleText & { readonly formula: (...values: A) => number };

/** A rule's call, remembered: the value, one standard deviation, and the figures that went in. */
export type Figure = {
  readonly rule: RuleText;
  readonly value: number;
  readonly sd: number;
  readonly inputs: readonly Figure[];
};

type FiguresFor<A extends readonly number[]> = { readonly [K in keyof A]: Figure };

/**
 * Names a rule; a helper so that the types count the inputs.
 *
 * @example rule({ name: 'twice', unit: 'mm', mark: 'ours', source: 'doubling', words: '2 x {length}' }, (a) => 2 * a).formula(3) // => 6
 */
export function rule<A extends readonly number[]>(text: RuleText, formula: (...values: A) => number): Rule<A> {
  return { ...text, formula };
}

/**
 * Applies a rule to figures and remembers how.
 *
 * @throws {RangeError} when the result is not finite, naming the rule and the inputs
 * @example work(rule({ name: 'twice', unit: 'mm', mark: 'ours', source: 'doubling', words: '2 x {length}' }, (a) => 2 * a), given('length', 3, 'mm', 'yours')).value // => 6
 */
export function work<A extends readonly number[]>(rule: Rule<A>, ...inputs: FiguresFor<A>): Figure {
  const figures = inputs as unknown as readonly Figure[];
  const values = new Array<number>(figures.length);
  for (let index = 0; index < figures.length; index += 1) values[index] = figures[index]!.value;
  const value = rule.formula(...(values as unknown as A));
  if (!Number.isFinite(value)) throw new RangeError(`${rule.name}: no finite result from ${values.join(', ')}`);
  return { rule, value, sd: 0, inputs: figures };
}

const noInputs: readonly Figure[] = [];

const renamedRules = new WeakMap<RuleText, Map<string, RuleText>>();

/**
 * The same rule under another name, as a part of a sum has one of its own. One rule and one name give one object.
 *
 * @example renamed(rule({ name: 'seam', unit: 'm', mark: 'ours', source: '', words: '{a}' }, (a) => a), 'seam: heel').name // => 'seam: heel'
 */
export function renamed<A extends readonly number[]>(rule: Rule<A>, name: string): Rule<A> {
  let names = renamedRules.get(rule);
  if (!names) {
    names = new Map();
    renamedRules.set(rule, names);
  }
  let known = names.get(name);
  if (!known) {
    known = { ...rule, name };
    names.set(name, known);
  }
  return known as Rule<A>;
}

/**
 * A figure that was not computed: entered, measured, published or chosen.
 *
 * @example given('foot length', 240, 'mm', 'yours').value // => 240
 */
export function given(name: string, value: number, unit: Unit, mark: Mark, source = '', sd = 0): Figure {
  return { rule: { name, unit, mark, source, words: '' }, value, sd, inputs: noInputs };
}

/**
 * The same figure with its standard deviation.
 *
 * @example withSd(given('loop', 3, 'cm', 'ours'), 0.2).sd // => 0.2
 */
export function withSd(figure: Figure, sd: number): Figure {
  return { ...figure, sd };
}

/**
 * The names in a rule's words, in order, each once: they stand for the inputs.
 *
 * @example namesInWords('{a} x {b} + {a}') // => ['a', 'b']
 */
export function namesInWords(words: string): string[] {
  const names = [...words.matchAll(/\{([^}]+)\}/g)].map((match) => match[1]!);
  return names.filter((name, index) => names.indexOf(name) === index);
}

/**
 * A sum of any number of figures; one figure is itself, none is 0.
 *
 * @param name what the sum is called
 * @param unit its unit, the same as its parts'
 * @example sumOf('all rows', 'rows', [given('a', 2, 'rows', 'ours'), given('b', 3, 'rows', 'ours')]).value // => 5
 * @example sumOf('nothing', 'mm', []).value // => 0
 */
export function sumOf(name: string, unit: Unit, parts: readonly Figure[]): Figure {
  if (parts.length === 1) return parts[0]!;
  let value = 0;
  for (const part of parts) value += part.value;
  return { rule: new SumText(name, unit, parts), value, sd: 0, inputs: parts };
}

/** The text of a sum; its words are put together when somebody reads them, which a plan never does. */
class SumText implements RuleText {
  readonly mark = 'ours';
  readonly source = 'a sum';
  readonly name: string;
  readonly unit: Unit;
  readonly #parts: readonly Figure[];

  constructor(name: string, unit: Unit, parts: readonly Figure[]) {
    this.name = name;
    this.unit = unit;
    this.#parts = parts;
  }

  get words(): string {
    return this.#parts.map((part) => `{${part.rule.name}}`).join(' + ');
  }
}
