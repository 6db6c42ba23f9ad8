/**
 * A name for a text: 128 bits in hexadecimal, the same on every machine. It tells texts apart; it keeps no secret.
 *
 * Source: cyrb128, public domain, by bryc; four 32-bit lanes of multiply and xor
 * @example hashText('') === hashText('a') // => false
 * @example hashText('wool').length // => 32
 */
export function hashText(text: string): string {
  let [a, b, c, d] = [1779033703, 3144134277, 1013904242, 2773480762];
  for (let i = 0; i < text.length; i += 1) {
    const unit = text.charCodeAt(i);
    a = b ^ Math.imul(a ^ unit, 597399067);
    b = c ^ Math.imul(b ^ unit, 2869860233);
    c = d ^ Math.imul(c ^ unit, 951274213);
    d = a ^ Math.imul(d ^ unit, 2716044179);
  }
  a = Math.imul(c ^ (a >>> 18), 597399067);
  b = Math.imul(d ^ (b >>> 22), 2869860233);
  c = Math.imul(a ^ (c >>> 17), 951274213);
  d = Math.imul(b ^ (d >>> 19), 2716044179);
  const lanes = [a ^ b ^ c ^ d, b ^ a, c ^ a, d ^ a];
  return lanes.map((lane) => (lane >>> 0).toString(16).padStart(8, '0')).join('');
}
