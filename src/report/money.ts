/**
 * What a length of cloth costs, in whole hundredths of the currency.
 * A price per yard arrives converted to metres and is no longer whole: it is turned back to the yard first, so that
 * half a cent is rounded up and never lost in the conversion (1 yd = 0.9144 m exactly).
 */
import type { LengthUnit, Um } from '../units/types.js';

const umPerMetre = 1_000_000;
const umPerYard = 914_400;

/** Hundredths of the currency, rounded half up. */
export function costMinor(buyUm: Um, priceMinorPerMetre: number): number {
  const metreThousandths = priceMinorPerMetre * 1000;
  const perMetre = Number.isInteger(metreThousandths);
  const thousandths = BigInt(Math.round(perMetre ? metreThousandths : metreThousandths * 0.9144));
  const under = BigInt(perMetre ? umPerMetre : umPerYard) * 1000n;
  return Number((2n * thousandths * BigInt(buyUm) + under) / (2n * under));
}

/** `42.55 EUR`, or the bare number where no currency is named. */
export function formatMoney(minor: number, currency: string | null): string {
  const digits = String(minor).padStart(3, '0');
  const amount = `${digits.slice(0, -2)}.${digits.slice(-2)}`;
  return currency === null ? amount : `${amount} ${currency}`;
}

/** The price as it stands on the bolt: per metre, or per yard for inch lists. */
export function formatPrice(priceMinorPerMetre: number, currency: string | null, unit: LengthUnit): string {
  const perYard = unit === 'in';
  const minor = costMinor(perYard ? umPerYard : umPerMetre, priceMinorPerMetre);
  return `${formatMoney(minor, currency)} a ${perYard ? 'yard' : 'metre'}`;
}
