/**
 * Units as types. A plain number may be used where a unit is wanted, but a length never where an angle is wanted:
 * the flavour is an optional phantom property, so arithmetic stays free of casts and mix-ups fail to compile.
 */
declare const unit: unique symbol;
type Flavoured<U extends string> = number & { readonly [unit]?: U };

/** Millimetres. */
export type Mm = Flavoured<'mm'>;
/** Radians. */
export type Rad = Flavoured<'rad'>;
/** Square millimetres. */
export type Mm2 = Flavoured<'mm2'>;
