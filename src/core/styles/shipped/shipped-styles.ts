import { babyBootie } from '#core/styles/shipped/baby-bootie.ts';
import { bedSock } from '#core/styles/shipped/bed-sock.ts';
import { contrastToeSlipper } from '#core/styles/shipped/contrast-toe.ts';
import { garterSlipper } from '#core/styles/shipped/garter-slipper.ts';
import { twoPieceSlipper } from '#core/styles/shipped/two-piece-slipper.ts';
import type { StyleBody } from '#core/styles/style.ts';

/** The styles every workshop begins with, the usual one first. */
export const shippedStyles: readonly StyleBody[] = [
  twoPieceSlipper,
  garterSlipper,
  babyBootie,
  bedSock,
  contrastToeSlipper,
];
