/** Owns the QR code: dark squares on light in both themes, since many readers want it so. */
import { create } from 'qrcode';
import { useMemo } from 'react';
import { useLanguage } from '../../../shared/ui/language.ts';

/** Light squares around the code, as the standard asks (ISO/IEC 18004). */
const QUIET = 4;

export function Qr({ text, label }: { readonly text: string; readonly label?: string }) {
  const { doors: say } = useLanguage().say;
  const { size, path } = useMemo(() => {
    const { modules } = create(text, { errorCorrectionLevel: 'M' });
    let d = '';
    for (let y = 0; y < modules.size; y += 1) {
      for (let x = 0; x < modules.size; x += 1) if (modules.get(y, x)) d += `M${x} ${y}h1v1h-1z`;
    }
    return { size: modules.size, path: d };
  }, [text]);
  return (
    <svg className="qr" viewBox={`${-QUIET} ${-QUIET} ${size + 2 * QUIET} ${size + 2 * QUIET}`} shapeRendering="crispEdges" role="img" aria-label={label ?? say.phoneCode}>
      <path className="qr-paper" d={`M${-QUIET} ${-QUIET}h${size + 2 * QUIET}v${size + 2 * QUIET}h${-(size + 2 * QUIET)}z`} />
      <path className="qr-ink" d={path} />
    </svg>
  );
}
