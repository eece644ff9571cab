/** Owns how full the phone is, where its browser says so (many do not). */
import { useEffect, useState } from 'react';

interface Battery extends EventTarget { readonly level: number; readonly charging: boolean }
export interface Charge { readonly percent: number; readonly charging: boolean }

/** From here on it is said. */
const LOW_PERCENT = 15;
export const isLow = (charge: Charge | null): charge is Charge => charge !== null && !charge.charging && charge.percent <= LOW_PERCENT;

/** Null while it is not known. */
export function useBattery(): Charge | null {
  const [charge, setCharge] = useState<Charge | null>(null);
  useEffect(() => {
    const { getBattery } = navigator as Navigator & { getBattery?: () => Promise<Battery> };
    if (!getBattery) return;
    let here = true;
    let battery: Battery | null = null;
    const read = () => { if (battery) setCharge({ percent: Math.round(battery.level * 100), charging: battery.charging }); };
    void getBattery.call(navigator).then((got) => {
      if (!here) return;
      battery = got;
      read();
      for (const change of ['levelchange', 'chargingchange']) got.addEventListener(change, read);
    }, () => undefined);
    return () => {
      here = false;
      for (const change of ['levelchange', 'chargingchange']) battery?.removeEventListener(change, read);
    };
  }, []);
  return charge;
}
