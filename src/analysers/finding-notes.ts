/** What a finding without a default limit of its own tells, and which verdicts it can give from where. */
export interface FindingNote {
  readonly id: string;
  readonly title: string;
  readonly says: string;
}

/** In report order. Only `explain` reads them, so they stand apart from `meta`, which every run loads. */
export const FINDING_NOTES: readonly FindingNote[] = [
  {
    id: 'fuel-trim.adaptation',
    title: 'Cells seen while the trims adapted',
    says: 'Cells that were steady only before the trims had come to rest: shown, not held against the limit, never a pass.',
  },
  {
    id: 'injector-duty.redline',
    title: 'Duty at the redline',
    says: 'Duty carried from the end of the pull to the redline, with its interval. A projection: it warns from the warn limit of injector-duty.peak on and never fails.',
  },
  {
    id: 'injector-duty.next-step',
    title: 'Duty at the next step of boost',
    says: 'Duty at nextStep.boost of the build sheet, with its 90 % interval. A projection: it warns from the fail limit of injector-duty.peak on and never fails.',
  },
  {
    id: 'injector-duty.model-check',
    title: 'Duty against the air mass',
    says: 'Duty below 57 % of what airflow, mixture and injector flow ask for (common practice, no source): a mapping question, which warns.',
  },
  {
    id: 'injector-duty.elsewhere',
    title: 'Duty outside the judged pulls',
    says: 'Duty from the warn limit of injector-duty.peak on for 0.3 s or more outside the judged pulls: warns, never fails.',
  },
  {
    id: 'boost-overshoot.ceiling',
    title: 'Boost over the ceiling',
    says: 'Any believable sample above boost.ceiling of the build sheet in the first rise of a pull: a fail, whatever else holds. Without that key it is not asked.',
  },
  {
    id: 'boost-spike.ceiling',
    title: 'Boost over the ceiling',
    says: 'Any believable sample above boost.ceiling of the build sheet in a brief excursion: a fail, whatever else holds. Without that key it is not asked.',
  },
  {
    id: 'boost-spike.surge',
    title: 'Excursion of half a second or more',
    says: 'Boost that leaves its level for 0.5 s or more and comes back: too long for a spike, and no steady rise. Warns from the warn limit of boost-spike.height on, never fails.',
  },
  {
    id: 'boost-creep.ceiling',
    title: 'Boost over the ceiling',
    says: 'Any believable sample above boost.ceiling of the build sheet where boost climbs or holds a level: a fail, whatever else holds. Without that key it is not asked.',
  },
  {
    id: 'boost-creep.hunting',
    title: 'Settled boost that hunts',
    says: 'Swings of 7 kPa or more from top to bottom that go on to the end of the pull (common practice, no source): warns. Larger ones never settle, and fail as boost-creep.rise.',
  },
  {
    id: 'boost-creep.spring',
    title: 'Settled boost against the spring',
    says: 'For a hand-set controller without a target: warns above twice the upper cracking pressure and 30 kPa, below 0.6 of the lower one, and where the boost that the build sheet speaks of is missing (common practice, no source).',
  },
  {
    id: 'boost-creep.taper',
    title: 'Boost that falls towards the top',
    says: 'A settled line that falls: told, and no fault by itself.',
  },
  {
    id: 'timing-pull.temperature',
    title: 'Temperature compensation',
    says: 'Smooth retard that follows charge temperature, equal on all cylinders: told, and taken off before knock is judged. Warns from the warn limit of timing-pull.peak on where charge temperature is not logged.',
  },
  {
    id: 'timing-pull.torque-management',
    title: 'Torque management',
    says: 'Retard with gear changes, lifts, idle and overrun, and outside the judged pulls: told as such, never judged as knock.',
  },
  {
    id: 'timing-pull.offset',
    title: 'Resting level of retard',
    says: 'Retard that never goes away. Warns from the warn limit of timing-pull.peak on; where it is reckoned as target minus actual advance, from the fail limit on.',
  },
  {
    id: 'timing-pull.sign',
    title: 'Sign of a retard channel',
    says: 'A retard channel that only goes below zero: a mapping question. Warns from the warn limit of timing-pull.peak on, else it is not assessed; never a pass.',
  },
  {
    id: 'mixture.rich-error',
    title: 'Richer than asked',
    says: 'Mixture 0.03 or more richer than asked, held 0.2 s (common practice, no source): told, never a fault.',
  },
  {
    id: 'fuel-pressure.reference',
    title: 'Reference of the regulator',
    says: 'Whether rail pressure follows the manifold: 1 kPa per kPa is manifold-referenced, 0 is fixed (common practice, no source). Warns where the build sheet says otherwise, or is silent and the rail does not follow.',
  },
  {
    id: 'charge-temperature.soak',
    title: 'Heat soak',
    says: 'Heat carried from one pull into the next: told from 5 K on (common practice, no source), never a warning by itself.',
  },
  {
    id: 'charge-temperature.cooler',
    title: 'Effectiveness of the charge cooler',
    says: 'Reckoned from pressure ratio and an assumed compressor efficiency, with its interval: called weak where it is surely below 55 % (common practice, no source), never a warning by itself.',
  },
  {
    id: 'boost-target.tracking',
    title: 'Settled boost against the logged target',
    says: 'Beside the target of the build sheet: judged by the limits of boost-target.error.',
  },
  {
    id: 'boost-target.spring',
    title: 'Settled boost against the spring',
    says: 'For a hand-set controller or the spring alone: warns where the target lies below the cracking pressure and, without a target, above twice the upper cracking pressure and 30 kPa or below 0.6 of the lower one (common practice, no source).',
  },
  {
    id: 'boost-target.pressure-ratio',
    title: 'Pressure ratio in thin air',
    says: 'The work of the compressor where the air outside is below 95 kPa: told, no fault.',
  },
  {
    id: 'torque.low-speed',
    title: 'Torque at low engine speed',
    says: 'The highest torque below half of the redline, by the limits of torque.peak; not assessed without bottomEnd.torqueLimit.',
  },
  {
    id: 'torque.ethanol',
    title: 'Ethanol content',
    says: 'The blend in the tank against bottomEnd.maxEthanol of the build sheet: a value above it warns. Without that key it is not asked.',
  },
  {
    id: 'sensor-health.stuck',
    title: 'Stuck channels',
    says: 'A channel that has to follow load and does not, stands still while the car moves, or freezes in a pull: warns, and fails where a judged pull stands on it.',
  },
  {
    id: 'sensor-health.dead',
    title: 'Dead channels',
    says: 'A channel without values, or one that never leaves the end at which it is dead: told, or a warning where answers stand on it.',
  },
  {
    id: 'sensor-health.saturated',
    title: 'Channels at the end of their range',
    says: 'Readings exactly alike at the outermost value: warns, because what lay beyond is not known.',
  },
  {
    id: 'sensor-health.implausible',
    title: 'Implausible readings',
    says: 'Readings outside the range of the channel, or jumps that the quantity cannot make: told where they are few, a warning in pulls, a fail where the whole channel is wrong.',
  },
  {
    id: 'sensor-health.disagreement',
    title: 'Disagreeing channels',
    says: 'Two channels that measure one thing and are apart by more than both can err: warns.',
  },
  {
    id: 'sensor-health.disconnected',
    title: 'Disconnected channels',
    says: 'Channels that the build sheet lists as disconnected: told, and a warning where one follows the engine after all.',
  },
  {
    id: 'sensor-health.lag',
    title: 'Lag of the mixture sensor',
    says: 'Time from fuel cut to half of the way of lambda to its lean end: warns from 1 s on (common practice, no source).',
  },
  {
    id: 'sensor-health.units',
    title: 'Units that physics contradicts',
    says: 'Unit, reference or sign of the mapping that the readings themselves contradict: one is a warning.',
  },
  {
    id: 'trouble-codes.lamp',
    title: 'Malfunction lamp',
    says: 'The lamp on with the engine running: judged as one unexplained code, unless a code that the build sheet expects was read. A single update of many warns.',
  },
  {
    id: 'trouble-codes.count',
    title: 'Number of stored codes',
    says: 'Codes that the controller counted beyond those that were read: judged by trouble-codes.unexplained. Codes that nobody read warn.',
  },
  {
    id: 'temperatures.cold-pull',
    title: 'Full load on a cold engine',
    says: 'A pull begun with coolant or oil below 60 °C (common practice, no source): told, never a warning by itself.',
  },
];
