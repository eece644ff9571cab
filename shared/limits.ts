/**
 * Owns every bound of the product, each with its reason. Leaves alone what the
 * bounds are applied to. Units stand last in the names.
 */

/** The count-in before work: "3, 2, 1" (common practice, no source). */
export const COUNT_IN_MS = 3_000;
/** A side or a piece of work shorter than this cannot be begun and ended with care (common practice, no source). */
export const LEAST_WORK_MS = 3_000;
/** Within this time of a pass, Again means the start before this one. */
export const AGAIN_WINDOW_MS = 3_000;
/** A pause or a wait longer than this means that everybody has gone home. */
export const FORGOTTEN_MS = 2 * 3_600_000;
/** A command older than this when its turn comes is no longer what its sender meant. */
export const STALE_COMMAND_MS = 2_000;
/** Commands waiting in one room; more means a stuck disk or a stuck key. */
export const ROOM_QUEUE_MAX = 64;

/** The shortest stretch a plan may ask for; below it nobody can react. */
export const PLAN_LEAST_S = 1;
/** The longest single stretch in a plan: an hour. */
export const PLAN_MOST_S = 3_600;
/** The longest class: four hours, so that a slip of the finger is caught. */
export const CLASS_MOST_S = 4 * 3_600;
/** Movements in one section; a room cannot remember more. */
export const SECTION_ITEMS_MAX = 60;
export const SECTIONS_MAX = 20;
export const ROUNDS_MAX = 50;
/** The number of a session in its series: two a week for nine years. */
export const SERIES_MAX = 999;
/** Rules set aside in one plan; more is a rule book of its own. */
export const WAIVERS_MAX = 100;
/** Characters typed as shorthand: ten pages by hand. */
export const TYPED_MAX = 20_000;
/** Findings of the coach about one plan; the worst come first, and nobody reads a longer list. */
export const FINDINGS_MAX = 200;
/** Intervals in one compiled class; bounds memory and the work of a replay. */
export const INTERVALS_MAX = 4_000;
/** Rounds and make-ups added by hand in one class. */
export const ADDED_MAX = 100;
/** Longest extension of one interval in one tap. */
export const EXTEND_MOST_MS = 300_000;
/** Characters: names fit two lines of the screen, notes fit a phone. */
export const NAME_MAX = 80;
export const NOTE_MAX = 280;
/** People in one room; a head count above it is a slip. */
export const HEAD_COUNT_MAX = 500;
/** Events in one class: one tap a second for an hour is far beyond any class. */
export const EVENTS_MAX = 5_000;

/** Later than this and the instructor is told so; from then on until it is under the second. */
export const LATE_FROM_MS = 60_000;
export const LATE_UNTIL_MS = 30_000;
/** Earlier than this and the instructor is told so; from then on until it is under the second. */
export const EARLY_FROM_MS = 120_000;
export const EARLY_UNTIL_MS = 90_000;
/** Work is shortened and lengthened in steps of this, each side. */
export const SHARE_STEP_MS = 5_000;
/** The shortest that a rest, a show, work of a movement that says nothing, and a cool-down are cut to (common practice, no source). */
export const REST_LEAST_MS = 10_000;
export const SHOW_LEAST_MS = 5_000;
export const WORK_LEAST_MS = 10_000;
export const COOL_DOWN_LEAST_MS = 180_000;
/** A rest and a water break that are put in by hand; the break's is an estimate (common practice, no source). */
export const BREAK_REST_MS = 30_000;
export const BREAK_WATER_MS = 60_000;
/** Intervals one way may change: its command has to fit a message. */
export const WAY_CHANGES_MAX = 300;
/** Classes whose shows are learned from, the newest ones: some months of a studio, and read in seconds at the most. */
export const CLASSES_LEARNED_MAX = 200;
/** Letters of the label that says who teaches. */
export const INSTRUCTOR_MAX = 20;
/** How many planned shows an estimate of a show is worth beside those that were measured. */
export const SHOW_PRIOR = 3;

/** How long a class stays on the screens after its end: time for head count, note and goodbye. */
export const LINGER_MS = 30 * 60_000;
/** A pairing code is good for this long; then the screen shows another. */
export const PAIRING_CODE_MS = 10 * 60_000;
/** Wrong codes from one device before it has to wait between tries. */
export const PAIRING_FREE_TRIES = 5;
/** Wrong codes from all devices together before everybody has to wait; then all codes are changed. */
export const PAIRING_FREE_TRIES_IN_ALL = 30;
/** The longest wait between two tries. */
export const PAIRING_WAIT_MOST_MS = 60_000;
/** Bytes of one message from a device; the longest is a note. */
export const MESSAGE_MOST_BYTES = 16_384;
/** Bytes of one plan or movement file; the longest of ours is a tenth of it. */
export const FILE_MOST_BYTES = 262_144;
/** A tap without an answer by then is reported as such: longer than the server keeps a stale one. */
export const COMMAND_ANSWER_MS = 3_000;
/** Classes in one page of the list. */
export const CLASSES_PAGE_MAX = 100;

/** A picture fills at most half of a 4K screen; 2 MB is plenty for that, and quick over a studio's Wi-Fi. */
export const PICTURE_MOST_BYTES = 2 * 1_048_576;
/** Ten seconds at 720p take 2 to 5 MB; every screen of the studio fetches it again when it is opened. */
export const CLIP_MOST_BYTES = 8 * 1_048_576;
/** One repetition, a few times: what is longer is a film, not a loop. */
export const CLIP_MOST_MS = 30_000;
/** The edge of a picture: a small file can unfold to more than a television's memory holds. */
export const PICTURE_MOST_PX = 4_096;
/** A studio's own movements beside ours; more is a stuck key, and every device fetches all of them. */
export const OWN_MOVEMENTS_MAX = 200;

/** Connections of one server: five devices in each of 800 rooms; memory for more is not what a studio's computer has. */
export const CONNECTIONS_MAX = 4_000;
/** Connections of one device at once: more pages than anybody looks at. */
export const CONNECTIONS_PER_ADDRESS_MAX = 60;
/** How often one address may come: a roomful behind one router that comes back after a power cut, and no more. */
export const ADDRESS_COMES = { perSecond: 5, burst: 120 } as const;
/** Messages of one connection: a burst of clock samples and a quick hand are a tenth of it. */
export const MESSAGES_RATE = { perSecond: 100, burst: 300 } as const;
/** Messages over that rate before a connection is cut off: nobody sends so many by mistake. */
export const FLOOD_MESSAGES = 1_000;
/** Joining is once a connection, and now and then when news was missed; its answer is the whole class, a thousand times what was asked. */
export const JOINS_RATE = { perSecond: 1, burst: 20 } as const;
/** A device that was cut off for sending too much is let in again after so long. */
export const CUT_OFF_WAIT_MS = 10_000;
/** Bytes that wait for a device that does not read: some classes at their longest. */
export const UNREAD_MOST_BYTES = 8 * 1_048_576;
/** TCP connections of one device at once: its sockets, and six for the files of each page (as browsers have it, common practice). */
export const TCP_PER_ADDRESS_MAX = 200;
/** How often one address may open one: a roomful behind one router loads its pages. */
export const TCP_COMES = { perSecond: 50, burst: 600 } as const;
/** Messages that wait for a device that does not read; then it is let go, and gets a snapshot when it comes back. */
export const UNREAD_MAX = 500;
/** Requests of one address: a page with all its movements is a tenth of the burst. */
export const REQUESTS_RATE = { perSecond: 40, burst: 1_000 } as const;

/** A stop that nobody has touched for so long means that somebody needs help. */
export const STOP_UNTOUCHED_MS = 4_000;
/** After standing for longer than this the room moves easily before it works again (common practice, no source). */
export const EASY_AFTER_MS = 300_000;
export const EASY_MS = 120_000;

/** A stop with no class is found again after a restart so long; later it means nothing any more. As long as a class that stands is remembered. */
export const STOP_KEPT_MS = 2 * 3_600_000;
/** What people said at the door waits so long for its class; then it is forgotten. */
export const HERE_KEPT_MS = 2 * 3_600_000;
/** The picture of a door check is put away by then. */
export const PICTURE_SHOWN_MS = 60_000;
/** A phone that is handed over offers its code so long. */
export const HAND_OVER_MS = 120_000;
/** A class without a phone for so long asks for one, where a go is due. */
export const NO_PHONE_MS = 30_000;

/** How long after its end a class may be answered about: robust from a minute to days after (Foster 2021), and nobody is kept in memory for long. */
export const ANSWERS_OPEN_MS = 2 * 3_600_000;
/** How long logs are kept where the studio says nothing: two years. */
export const KEEP_DAYS = 730;

/** Letters of the name of a music file; most disks allow no more. */
export const FILE_NAME_MAX = 255;
/** Music files of a studio; a day of music is some four hundred. */
export const MUSIC_FILES_MAX = 2_000;

/** Plans of a studio; a studio with a plan a day for more than a year has fewer. */
export const OWN_PLANS_MAX = 500;
/** Files saved at home of one plan that are remembered in the next: who saves oftener than that between two bringings is asked once more. */
export const HOME_SAVES_MAX = 12;
/** Former versions kept of one plan, the newest ones: an evening of typing, saved every few seconds. */
export const PLAN_VERSIONS_MAX = 200;
/** A file that is brought back from home: the page itself, hundreds of plans and some pictures are a quarter of it. */
export const HOME_FILE_MOST_BYTES = 32 * 1_048_576;
/** One picture or clip in it, as text: what a movement may have, in base64. */
export const HOME_PICTURE_MOST_CHARS = 12 * 1_048_576;
/** All pictures that are taken home together; more is too much for a mail or a phone. */
export const HOME_PICTURES_MOST_BYTES = 8 * 1_048_576;
/** Lines of the timetable: ten rooms with three classes a day, all week. */
export const TIMETABLE_MAX = 200;
/** How far the calendar is written ahead: half a year. */
export const CALENDAR_DAYS = 182;
/** A class of the timetable is due so long before its start and after it: time to open the doors, and to be late. */
export const DUE_BEFORE_MS = 45 * 60_000;
export const DUE_AFTER_MS = 20 * 60_000;
/** Somebody whose desk was not heard of for so long no longer edits. */
export const EDITING_MS = 15_000;

/** A browser at the desk has to give the password again after this long (NIST SP 800-63B section 4.1.3: 30 days at level 1). */
export const DESK_LASTS_MS = 30 * 24 * 3_600_000;
/** A phone is paired anew after this long: a season of classes. */
export const PHONE_LASTS_MS = 120 * 24 * 3_600_000;
/** Browsers that are in at the desk at once; the oldest goes first. */
export const DESK_SESSIONS_MAX = 50;
/** Letters of the desk's password: fewer can be guessed, more are a slip. */
export const PASSWORD_LEAST = 8;
export const PASSWORD_MOST = 128;

/** Screens that studios have: from a small monitor to a wall that a projector fills. Inches of diagonal. */
export const SCREEN_LEAST_INCH = 19;
export const SCREEN_MOST_INCH = 250;
/** From a screen that nobody stands in front of to the end of a school's gymnasium. */
export const FARTHEST_LEAST_MM = 1_500;
export const FARTHEST_MOST_MM = 30_000;
/** The lower edge of a screen over the floor: on a low board, or under a high ceiling. */
export const LOWER_EDGE_LEAST_MM = 200;
export const LOWER_EDGE_MOST_MM = 3_000;

/** Studios that report to one chain's server: each holds a few connections to the database. */
export const HOUSES_MAX = 100;
/** Classes in one question or message of a house: a week's at most, of a large studio. */
export const HOUSE_CLASSES_MAX = 100;
/** Commands of one class in one message; each is a commit. */
export const HOUSE_COMMANDS_MAX = 200;
/** A house fills a message up to this, and goes over it for one command only: half a minute over the worst line. */
export const HOUSE_MESSAGE_BYTES = 256 * 1_024;
/** The largest command, the start of the longest class, is half of this. */
export const HOUSE_MESSAGE_MOST_BYTES = 4 * 1_048_576;
/** Requests of one house: one in ten seconds where nothing waits, and one after the other where much does. */
export const HOUSE_RATE = { perSecond: 10, burst: 100 } as const;
/** A studio's clock that differs from the chain's by more is said: a minute is what people see. */
export const HOUSE_CLOCK_OFF_MS = 60_000;
