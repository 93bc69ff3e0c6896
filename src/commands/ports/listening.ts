/** What listening to a port is asked with. */
export type Listening = {
  readonly port: string;
  readonly ms: number;
  readonly signal: AbortSignal;
  readonly json: boolean;
};

/** How it ended: how many messages were understood, or why not. */
export type Listened =
  | { readonly kind: 'listened'; readonly understood: number }
  | { readonly kind: 'bad'; readonly message: string }
  | { readonly kind: 'failed'; readonly message: string };
