import type { Excursion } from '../drive/boost/excursions.ts';
import type { BoostPull } from '../drive/boost/settled-boost.ts';
import { formatQuantity } from '../kernel/format-number.ts';
import type { PullOutcome } from './boost-evidence.ts';
import type { Cause, DataTable } from './finding.ts';
import { rpmWords, withInterval } from './wording.ts';

/** What to check, cheapest first. */
export const SPIKE_NEXT = [
  'Check the control line and every clamp for leaks that open under pressure, and the lines for water or a kink.',
  'Check sensor plug, earth and hose: a spike in one or two samples can be electrical.',
  'Log the wastegate duty or turn the hand-set controller one step down, and repeat one pull.',
  'Check the actuator and gate for sticking and free play.',
];

function seconds(excursion: Excursion): number {
  return excursion.durationS;
}

/** One excursion in one sentence. */
export function spikeWords(boost: BoostPull, spike: Excursion): string {
  const samples = spike.samples === 1 ? 'one sample' : `${spike.samples} samples`;
  const open = spike.returned ? '' : ', not seen to come back before the pull ended';
  return `Pull ${boost.pull.id}: ${withInterval(spike.heightKpa, spike.lowKpa, spike.highKpa, 'kPa')} above the local level for ${formatQuantity(seconds(spike), 's')} at ${rpmWords(spike.rpm)} (${samples}), peak ${formatQuantity(spike.peakKpa, 'kPa')}${open}.`;
}

/** Smallest excursion that stands out of the noise of a pull, kPa. */
export function smallestSeen(boost: BoostPull): number {
  return Math.max(4 * (boost.excursions?.spreadKpa ?? boost.trace.noiseKpa), 2);
}

/** What can make a settled boost spike, with what this log says for and against. */
export function spikeCauses(outcomes: readonly PullOutcome[]): Cause[] {
  const spikes = outcomes.flatMap((o) => o.boost.excursions?.spikes ?? []);
  const single = spikes.filter((spike) => spike.samples === 1).length;
  const several = outcomes.some((o) => (o.boost.excursions?.spikes.length ?? 0) > 1);
  const sameRpm =
    spikes.length > 1 && Math.max(...spikes.map((s) => s.rpm)) - Math.min(...spikes.map((s) => s.rpm)) < 400;
  return [
    {
      cause: 'A control line that leaks or moves under pressure, or a controller that sticks and lets go',
      for: several ? ['it happens more than once in a pull'] : [],
      against: [],
    },
    {
      cause: 'A gate that sticks or flutters',
      for: sameRpm ? ['the excursions lie within 400 rpm of each other'] : [],
      against: spikes.length > 1 && !sameRpm ? ['they are spread over the speed range'] : [],
    },
    {
      cause: 'Sensor, plug or wiring',
      for: single > 0 ? [`${single} of ${spikes.length} show in one sample only`] : [],
      against: single === 0 ? ['every excursion shows in several samples'] : [],
    },
  ];
}

/** One row a pull: how many excursions, and the highest. */
export function spikeTable(outcomes: readonly PullOutcome[]): DataTable {
  const column = (name: string, unit: string) => ({ name, unit });
  return {
    id: 'boost-spike.pulls',
    title: 'Brief excursions, pull by pull',
    columns: [
      column('pull', ''),
      column('settled boost', 'kPa'),
      column('spikes', 'count'),
      column('highest', 'kPa'),
      column('lasting', 's'),
      column('at', 'rpm'),
      column('noise', 'kPa'),
      column('smallest seen', 'kPa'),
      column('verdict', ''),
    ],
    rows: outcomes.map(({ boost, value, verdict }) => {
      const spikes = [...(boost.excursions?.spikes ?? [])].sort((a, b) => b.heightKpa - a.heightKpa);
      const top = spikes[0];
      const settled = boost.settled && !boost.unsettled ? boost.settled.levelKpa : null;
      return [
        boost.pull.id,
        settled,
        value === undefined ? null : spikes.length,
        top?.heightKpa ?? null,
        top ? seconds(top) : null,
        top?.rpm ?? null,
        boost.trace.noiseKpa,
        value === undefined ? null : smallestSeen(boost),
        verdict,
      ];
    }),
  };
}
