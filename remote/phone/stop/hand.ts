/** Owns handing the stop to every part of the phone, so that its control is in every state. */
import { createContext, useContext } from 'react';
import type { StopHere } from '../../../shared/link/use-stop.ts';

const StopHand = createContext<StopHere | null>(null);
export const StopIsHere = StopHand.Provider;
export const useStopHand = (): StopHere | null => useContext(StopHand);
