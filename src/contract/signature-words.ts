/** How the maker of an entry was known, for a reader: signed in, and by which entry, or by a name that was only typed. */
export const signatureWords = ({ signIn }: { signIn?: number }): string =>
  signIn === undefined ? "name typed" : `signed in, entry ${signIn}`;
