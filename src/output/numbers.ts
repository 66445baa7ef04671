/**
 * A number for a file: four decimals at most, no trailing zeros, no exponent, no minus zero. Four decimals of a
 * millimetre are a ten-thousandth: finer than any printer or cutter steps.
 */
export function compact(value: number): string {
  const scaled = Math.round(value * 10000);
  if (scaled === 0) return '0';
  if (scaled % 10000 === 0) return String(scaled / 10000);
  const text = (Math.abs(scaled) / 10000).toFixed(4).replace(/0+$/, '');
  return `${scaled < 0 ? '-' : ''}${text.startsWith('0.') ? text.slice(1) : text}`;
}
