/** What every report says, whatever it found. */
export const STANDING_CAUTIONS: readonly string[] = [
  'This report helps trained people decide. It does not release a car to the road.',
  'Full-load runs belong on a dynamometer or a closed course.',
  'A lean mixture, knock and uncontrolled boost destroy engines and can injure people.',
  'Fuel and hot parts burn. Let the car cool and keep an extinguisher at hand.',
  'Local road, emission and inspection law and the judgement of a licensed workshop stand above any verdict here.',
];
