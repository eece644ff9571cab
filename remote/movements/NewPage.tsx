/** Owns the form. */
export const NewPage = () => null;
