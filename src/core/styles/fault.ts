/**
 * A style that cannot be knitted: a sentence, and the place in the style it belongs to, like `pieces.foot.toe`.
 * Thrown while a style is worked out; the editor shows it at that field.
 */
export class StyleFault extends RangeError {
  readonly path: string;
  constructor(path: string, message: string) {
    super(message);
    this.name = 'StyleFault';
    this.path = path;
  }
}
