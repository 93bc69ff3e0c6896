/** A report before it has a format: plain words in plain blocks. Each format is one function of this. */
export type Block =
  | { readonly kind: 'say'; readonly text: string; readonly strong?: boolean }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | { readonly kind: 'ticks'; readonly items: readonly string[] }
  | { readonly kind: 'facts'; readonly facts: readonly Fact[] }
  | Table;

/** One named fact; more than one line when it has more than one answer. */
export type Fact = { readonly term: string; readonly says: readonly string[] };

export type Table = {
  readonly kind: 'table';
  readonly caption: string;
  /** Which column names the row. */
  readonly head: number;
  readonly columns: readonly { readonly title: string; readonly numbers?: boolean }[];
  readonly rows: readonly (readonly string[])[];
};

export type Section = {
  /** Short name in the file: letters and dashes. */
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly Block[];
  /** There is nothing in it: "movements"; many such are told in one line. */
  readonly nothing?: string;
  /** Printed on a page of its own. */
  readonly ownPage?: boolean;
};

export type ReportDocument = {
  readonly title: string;
  /** One line under the title: run, from when to when, which clock. */
  readonly subtitle: string;
  readonly sections: readonly Section[];
  /** Printed at the foot of every page: what proves it. */
  readonly foot?: string;
};

export const say = (text: string): Block => ({ kind: 'say', text });
export const stress = (text: string): Block => ({ kind: 'say', text, strong: true });
export const list = (items: readonly string[]): Block => ({ kind: 'list', items });
