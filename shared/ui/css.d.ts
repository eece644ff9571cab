/** Owns that styles are imported for their effect and give nothing back. */
declare module '*.css';
declare module '@fontsource-variable/*';
