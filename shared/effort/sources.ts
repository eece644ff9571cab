/** Owns what is told of a formula, one tap from its figure: how it is worked out, from whom it is, and what it does not say. */
export interface Source {
  readonly name: string;
  readonly formula: string;
  readonly from: string;
  readonly mind: string;
}

export const sources = {
  load: {
    name: 'Session load',
    formula: 'Mean answer (0 to 10) times the minutes of the whole class, warm-up, rests and cool-down included.',
    from: 'Foster C. Med Sci Sports Exerc 1998; 30:1164-8. Foster C et al. J Strength Cond Res 2001; 15:109-15.',
    mind: 'Here it is of a room, not of a person: the mean of those who answered. Fewer than three answers are not counted, and none before two hours after the end, when no more come in: from two means the answer between them could be worked out.',
  },
  monotony: {
    name: 'Monotony and strain',
    formula: 'Monotony is the mean of the seven daily loads over their standard deviation; strain is the load of the week times monotony.',
    from: 'Foster C. Med Sci Sports Exerc 1998; 30:1164-8.',
    mind: 'For somebody who comes to every class that is chosen here. The text does not say which standard deviation; this is the sample\'s (n - 1). The population\'s gives 1.08 times as much. Where every day is the same it is not defined.',
  },
  rate: {
    name: 'Stops for form in an hour of work',
    formula: 'Pauses with the reason form, over the hours the move was worked at. The line is the exact 95 % Poisson interval.',
    from: 'Garwood F. Biometrika 1936; 28:437-42.',
    mind: 'A wide line says that little is known yet. Of forty such lines one lies above by chance alone. It takes stops for independent; a group that is new is not.',
  },
  energy: {
    name: 'Energy',
    formula: 'kcal = MET x 3.5 x kg / 200 for each minute, from 50 to 100 kg of body. What is not work counts as standing, 1.3 MET (code 07040 of the 2011 edition).',
    from: '2024 Adult Compendium of Physical Activities, Herrmann SD et al. J Sport Health Sci 2024; 13:6-12. ACSM metabolic formula.',
    mind: 'For adults of 19 to 59. It is a range for a room and says nothing of a person.',
  },
  week: {
    name: 'Activity in a week',
    formula: 'Minutes of work from 3 MET on count once, from 6 MET on twice; 150 to 300 such minutes, and muscle work on 2 days.',
    from: 'WHO guidelines on physical activity 2020; Physical Activity Guidelines for Americans, 2nd edition, 2018.',
    mind: 'For somebody who comes to every class that is chosen here. What they do elsewhere is not known. From 65 on WHO adds balance and strength on 3 days.',
  },
  shows: {
    name: 'Time of shows',
    formula: 'What the plans say a show takes, beside what it took until go, without pauses, for each move.',
    from: 'The studio\'s own log.',
    mind: 'Only shows that were ended by go.',
  },
  late: {
    name: 'Late from the start, and later on the way',
    formula: 'A class begins late when its plan, begun then, would end after the floor must be free: by that much. What the end is later than that came on the way.',
    from: 'The studio\'s own log.',
    mind: 'Only classes where somebody said when the floor must be free.',
  },
} as const satisfies Record<string, Source>;
export type SourceName = keyof typeof sources;
