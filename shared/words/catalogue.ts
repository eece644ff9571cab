/**
 * Owns the list of everything that Hallclock itself says to a room, as one type: a
 * language that forgets one of them does not compile. What a studio typed (names of
 * plans, sections, rooms, its own movements) is not in it and is shown as typed.
 *
 * Lines are read from the back of a hall: each is as short as its language allows.
 */
import type { Position } from '../movement/movement.ts';
import type { Side } from '../plan/interval.ts';
import type { Section } from '../plan/plan.ts';
import type { RefusalReason } from '../session/refusal.ts';

/** What a language needs for its sentences: how it writes a number, and its plural forms (Unicode CLDR, through Intl.PluralRules). */
export interface Forms {
  readonly number: (n: number) => string;
  /** To one decimal: "3.5". */
  readonly tenths: (n: number) => string;
  /** The form for this number; a form that the language does not have is `other`. */
  readonly plural: (n: number, forms: PluralForms) => string;
}
export type PluralForms = { readonly other: string } & { readonly [K in 'zero' | 'one' | 'two' | 'few' | 'many']?: string };

/** How the next movement is reached from the present one. */
type Way = 'same' | 'to-the-floor' | 'still-on-the-floor' | 'up';
type Signal =
  | 'paused' | 'class-end' | 'section-end' | 'side-change' | 'end' | 'go' | 'resumed' | 'one' | 'two' | 'three'
  | 'last-one' | 'last-two' | 'last-three' | 'ten-left' | 'halfway';
type Picture = 'cup' | 'house' | 'leaf' | 'boat' | 'key' | 'fish' | 'tree' | 'bell';
type Volume = 'silent' | 'quiet-room' | 'over-talk' | 'over-music' | 'full';
type Of<K extends string> = Readonly<Record<K, string>>;

/** During a class. */
export interface ClassWords {
  /** Parts of a class that the studio gave no name. */
  readonly section: Of<Section['kind']>;
  readonly water: string;
  /** "Set up: on your back": said in two breaths, so with a colon and a space between. */
  readonly setUp: Of<Position>;
  /** Before the name of what comes: while the room works or rests ("Next"), and while it gets ready ("Then"). */
  readonly afterWork: Of<Way>;
  readonly afterReady: Of<Way>;
  /** What a pause goes back to, and how many seconds of it are left. */
  readonly thenOn: string;
  readonly thenMore: (seconds: number) => string;
  /** The participant's own side, for a movement that has no words of its own. */
  readonly side: Of<Side>;
  readonly pleaseStop: string;
  readonly keepMoving: string;
  readonly paused: string;
  /** Said after a stop, when nobody is congratulated. */
  readonly classOver: string;
  readonly wellDone: string;
  readonly rest: string;
  readonly stations: string;
  readonly moveRound: string;
  readonly goToNextPlace: string;
  readonly marchEasily: string;
  readonly haveWater: string;
  readonly stayEasy: string;
  readonly watchFirst: string;
  readonly otherSide: string;
  readonly turn: (n: number) => string;
  readonly round: (n: number, of: number) => string;
  readonly lastRound: string;
  readonly target: Readonly<Record<'reps' | 'breaths', (n: number) => string>>;
  readonly sideToSide: string;
  readonly getReady: string;
  readonly finish: string;
  readonly option: string;
  readonly endsAt: string;
  /** Two lines in the place of "Ends at" and the time. */
  readonly noNetwork: string;
  readonly stillCounting: string;
}

/** What is written, and what is spoken, with a signal. */
export interface SignalWords {
  readonly go: string;
  readonly lastThree: string;
  readonly tenLeft: string;
  readonly halfway: string;
  readonly otherSide: (phrase: string) => string;
  readonly done: string;
  readonly sectionDone: (section: string) => string;
  readonly carryOn: string;
  readonly sayChangeSides: string;
  readonly sayTenSeconds: string;
  readonly sayNext: (movement: string) => string;
  /** In the test of the sounds. */
  readonly named: Of<Signal>;
}

/** At the doors, before and after a class, and where there is nothing to show. */
export interface DoorWords {
  /** This language in its own words, as it is chosen. */
  readonly language: string;
  readonly phone: string;
  readonly phoneCode: string;
  readonly toLead: string;
  /** The same place by another address. */
  readonly orAddress: (address: string) => string;
  /** In our own words; the instructor and the rules of the place decide. */
  readonly cautions: readonly [string, string];
  readonly keysChoose: string;
  readonly keysStart: string;
  readonly noPlan: string;
  readonly noConnection: string;
  readonly tryingAgain: string;
  readonly oneMoment: string;
  readonly noAnswer: string;
  readonly howHard: string;
  readonly zeroToTen: string;
  readonly answerCode: string;
  readonly picture: Of<Picture>;
}

export interface SoundWords {
  readonly offPressKey: string;
  readonly isOff: string;
  readonly test: string;
  readonly volume: Of<Volume>;
  /** WHO 2022 standard for venues; NIOSH criterion with 3 dB exchange. */
  readonly loudness: string;
  readonly voice: (name: string) => string;
  readonly usualVoice: string;
  readonly noVoice: string;
  readonly noOutput: string;
  readonly notLoaded: string;
  readonly inTime: string;
  readonly lateOrEarly: string;
  readonly asMarkOnLine: string;
  readonly asItIs: string;
  readonly earlier: (ms: number) => string;
  readonly later: (ms: number) => string;
  readonly early: string;
  readonly together: string;
  readonly late: string;
  readonly inTimeHelp: string;
}

/** While the room is stopped. Plain; nothing of first aid is taught. */
export interface StopWords {
  readonly localRulesFirst: string;
  readonly keysSlip: string;
  readonly keysBack: string;
  readonly makeRoom: string;
  readonly callerSays: string;
  readonly emergencyNumber: string;
  readonly fetcherFinds: string;
  readonly defibrillator: string;
  readonly firstAid: string;
  readonly everyoneOut: string;
  readonly wayOut: string;
  readonly asSigns: string;
  readonly meetAt: string;
}

/** Setting up this screen where it hangs; read from close by. Lengths come in metres, shares from 0 to 1. */
export interface SetUpWords {
  /** With the key that opens it. */
  readonly open: string;
  readonly label: string;
  readonly title: string;
  readonly diagonal: string;
  readonly inches: (inch: number, cm: number) => string;
  readonly lowerEdge: string;
  readonly farthest: string;
  readonly light: string;
  readonly lights: Of<'device' | 'day' | 'dim'>;
  readonly cutsEdges: string;
  readonly edgesFree: string;
  readonly no: string;
  readonly language: string;
  readonly sound: string;
  readonly delay: string;
  readonly metres: (m: number) => string;
  readonly less: (name: string) => string;
  readonly more: (name: string) => string;
  readonly hear: string;
  readonly done: string;
  readonly help: string;
  /** What reaches how far. */
  readonly words: string;
  readonly seconds: string;
  readonly small: string;
  readonly tooFar: (words: number) => string;
  readonly fewer: (far: number) => string;
  readonly all: (far: number, words: number) => string;
  readonly headsHideNothing: string;
  readonly headsHide: (standing: number, sitting: number) => string;
  readonly belongsAt: (m: number) => string;
}

export interface RehearsalWords {
  readonly name: string;
  readonly rate: (times: number) => string;
  readonly reading: string;
  readonly unreadable: string;
  readonly noAnswer: (status: number) => string;
  readonly slower: string;
  readonly faster: string;
  readonly again: string;
  /** Why a class that is rehearsed is not changed on the way. */
  readonly keepsToPlan: string;
}

/** The one question after a class, on a participant's own phone. */
export interface AnswerWords {
  readonly language: string;
  readonly howHard: string;
  readonly theWhole: (name: string) => string;
  readonly from0To10: string;
  /** The anchors of the 0 to 10 scale (Foster's modification of Borg's CR-10, J Strength Cond Res 2001; 15:109-15); numbers without words lie between. */
  readonly ratings: Readonly<Record<0 | 1 | 2 | 3 | 4 | 5 | 7 | 10, string>>;
  readonly choose: string;
  readonly send: (n: number) => string;
  readonly sending: string;
  readonly oneMoment: string;
  readonly again: string;
  readonly thanks: string;
  readonly counted: string;
  readonly kept: (until: string, least: number) => string;
  readonly addresses: string;
  readonly scale: string;
  readonly problem: Of<'away' | 'none' | 'notEnded' | 'closed' | 'answered' | 'notCounted' | 'other'>;
}

export interface Catalogue {
  readonly class: ClassWords;
  readonly signal: SignalWords;
  readonly doors: DoorWords;
  readonly sound: SoundWords;
  readonly stop: StopWords;
  readonly setUp: SetUpWords;
  readonly rehearsal: RehearsalWords;
  readonly answer: AnswerWords;
  /** Why the server refused what was pressed at the screen; a reason that is not here is said as the server says it. */
  readonly refused: Readonly<Partial<Record<RefusalReason | 'offline', string>>>;
}

/** The movements that come with Hallclock. Their English is in media/movements. */
export interface MovementWords {
  /** By id: the name it has there, so that a studio's own movement of that id is left alone, and its name here. */
  readonly names: Readonly<Record<string, readonly [english: string, here: string]>>;
  /** Limbs, cues and options, by their English. */
  readonly texts: Readonly<Record<string, string>>;
}
