/** Owns that elements take custom properties in their style. */
import 'react';

declare module 'react' {
  interface CSSProperties {
    [custom: `--${string}`]: string | number | undefined;
  }
}
