// The package ships its types where its own "exports" hides them; these are the functions used here, with the names of Cephes.
declare module 'cephes' {
  /** Resolved when the functions can be called. */
  export const compiled: Promise<void>;
  export function erfc(x: number): number;
  export function igam(a: number, x: number): number;
  export function igamc(a: number, x: number): number;
  export function igami(a: number, upper: number): number;
  export function incbet(a: number, b: number, x: number): number;
  export function incbi(a: number, b: number, lower: number): number;
  export function lgam(x: number): number;
  export function ndtri(p: number): number;
}
