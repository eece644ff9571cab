/**
 * Owns the QR code: dark squares on light in both themes, since many readers want it so. What makes
 * its squares loads apart: the wall stands before it.
 */
import type { create as Create } from 'qrcode';
import { useEffect, useMemo, useState } from 'react';
import { useLanguage } from '../../../shared/ui/language.ts';

/** Light squares around the code, as the standard asks (ISO/IEC 18004). */
const QUIET = 4;
const AGAIN_MS = 3_000;

export function Qr({ text, label }: { readonly text: string; readonly label?: string }) {
  const { doors: say } = useLanguage().say;
  const [create, keep] = useState<typeof Create | null>(null);
  useEffect(() => {
    let again: ReturnType<typeof setTimeout> | undefined;
    const load = () => void import('qrcode').then((made) => keep(() => made.create)).catch(() => { again = setTimeout(load, AGAIN_MS); });
    load();
    return () => clearTimeout(again);
  }, []);
  const { size, path } = useMemo(() => {
    if (create === null) return { size: 1, path: '' };
    const { modules } = create(text, { errorCorrectionLevel: 'M' });
    let d = '';
    for (let y = 0; y < modules.size; y += 1) {
      for (let x = 0; x < modules.size; x += 1) if (modules.get(y, x)) d += `M${x} ${y}h1v1h-1z`;
    }
    return { size: modules.size, path: d };
  }, [text, create]);
  return (
    <svg className="qr" viewBox={`${-QUIET} ${-QUIET} ${size + 2 * QUIET} ${size + 2 * QUIET}`} shapeRendering="crispEdges" role="img" aria-label={label ?? say.phoneCode}>
      <path className="qr-paper" d={`M${-QUIET} ${-QUIET}h${size + 2 * QUIET}v${size + 2 * QUIET}h${-(size + 2 * QUIET)}z`} />
      <path className="qr-ink" d={path} />
    </svg>
  );
}
