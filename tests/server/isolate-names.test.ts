import { expect, it } from 'vitest';
import { isolateNames } from '#server/isolate-names.ts';

it('sets a name from right to left apart from the count beside it', () => {
  expect(isolateNames('<li>order 12, שרה כהן: 2 pairs</li>')).toBe('<li>order 12, <bdi>שרה כהן</bdi>: 2 pairs</li>');
  expect(isolateNames('<td>ليلى, 30 g</td>')).toBe('<td><bdi>ليلى</bdi>, 30 g</td>');
  // An apostrophe as pages write it is a part of the name.
  expect(isolateNames('<b>ג&#39;ורג 3</b>')).toBe('<b><bdi>ג&#39;ורג</bdi> 3</b>');
});

it('leaves plain text, drawings, attributes and other pages as they are', () => {
  for (const html of [
    '<title>Order 1 for שרה</title>',
    '<input value="שרה">',
    '<textarea name="a">שרה 2</textarea>',
    '<option value="1">שרה</option>',
    '<svg><text>שרה</text></svg>',
    '<p>order 12, Mara Linden: 2 pairs</p>',
  ]) {
    expect(isolateNames(html)).toBe(html);
  }
});
