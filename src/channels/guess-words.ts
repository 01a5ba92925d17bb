/**
 * Words of column names by what they stand for, folded (lower case, no accents): English, German, French, Spanish, Italian, Portuguese,
 * Dutch and Polish, with the abbreviations of SAE J1979 / J1930 and of the trade.
 */
const WORDS = {
  engine: 'engine eng motor moteur motore silnik silnika silnikowa silnikowego',
  revs: 'rpm revs rev drehzahl regime regimen giri obroty obrotow obrotowa revoluciones rotacao rotacoes toerental tours rotation rotacion',
  speed: 'speed spd velocity vitesse velocidad velocidade velocita geschwindigkeit predkosc snelheid',
  vehicle: 'vehicle veh car road ground fahrzeug vehicule vehiculo veiculo veicolo pojazdu samochodu voertuig gps vss',
  throttle:
    'throttle tps tp papillon mariposa farfalla borboleta przepustnica przepustnicy drosselklappe drosselklappen gasklep butterfly',
  pedal:
    'pedal pedale pedala pedalu gaspedal fahrpedal pedalwert accelerator acelerador accelerateur acceleratore przyspieszenia gazu gaspedaal foot app pps',
  accel: 'accel acc',
  position:
    'position pos posicion posicao posizione pozycja polozenie stand stellung winkel angle angolo angulo kat opening apertura abertura ouverture otwarcie otwarcia offnung oeffnung',
  manifold: 'manifold map saugrohr collecteur colector coletor collettore kolektor kolektora kolektorze spruitstuk',
  boost:
    'boost lade suralimentation sobrealimentacion sobrealimentacao sovralimentazione doladowanie doladowania sobrepresion laad',
  turbo: 'turbo turbine',
  pressure: 'pressure press pres druck pression presion pressao pressione cisnienie druk p',
  barometric:
    'baro barometric barometrisch barometrischer barometrique barometrico barometrica barometryczne atmospheric atmospherique atmosferico atmosferica atmosferyczne',
  ambient: 'ambient umgebung umgebungs umgebungsluft ambiante ambient ambiente otoczenia omgeving omgevings',
  intake:
    'intake inlet admission admision admissao aspirazione aspirata ansaug dolot dolotu dolotowe dolotowego dolotowy dolotowym ssacy ssacego ssacym inlaat iat',
  air: 'air luft aire ar aria powietrza powietrze lucht',
  temperature: 'temp temperature temperatur temperatura temperatuur tmp',
  charge: 'charge ladeluft cact charged',
  /** Charge air temperature, or the catalyst's. */
  cat: 'cat',
  intercooler: 'intercooler ladeluftkuhler ladeluftkuehler llk cooler',
  behind: 'post after nach out outlet apres despues dopo za',
  coolant:
    'coolant ect clt water kuhlmittel kuehlmittel kuhlwasser kuehlwasser wasser refroidissement refrigerante refrigeracion agua acqua eau arrefecimento raffreddamento chlodzacego chlodzacej koelvloeistof koelwater',
  liquid: 'liquide liquido plynu plyn cieczy ciecz',
  oil: 'oil eot ol oel huile aceite oleo olio oleju olie',
  exhaust: 'exhaust egt abgas echappement escape escapamento scarico spalin uitlaat',
  gas: 'gas gases gaz',
  mass: 'mass masse massen masa massa masy maf',
  flow: 'flow debit flujo caudal fluxo flusso portata przeplyw przeplywu strom durchsatz rate',
  load: 'load last carga carico obciazenie belasting',
  calculated: 'calculated calc berechnet berechnete calculee calculada calcolato obliczone pct',
  injection:
    'injector injectors injection inj injecteur inyector inyeccion injetor injecao iniettore iniezione wtrysk wtrysku wtryskiwacza einspritz einspritzung inspuit inspuiting injektor',
  time: 'time temps zeit dauer duration duree tiempo tempo czas duracion duracao durata tijd',
  pulse: 'pulse pulsewidth pw ipw impuls impulsbreite impulsion pulso impulso pw1',
  width: 'width largeur ancho larghezza largura szerokosc on open',
  duty: 'duty idc dutycycle tastverhaltnis tastverhaeltnis tastgrad auslastung wypelnienie wypelnienia',
  cycle: 'cycle dc ciclo',
  share: 'share anteil part',
  fuel: 'fuel kraftstoff carburant combustible combustivel carburante paliwa paliwo brandstof fuelling fueling benzin',
  rail: 'rail rampe riel listwa listwie frp rampa',
  wastegate: 'wastegate wg wgdc waste gate',
  actuator: 'solenoid valve control',
  battery:
    'battery batt bat batterie bateria batteria accu akumulator akumulatora bordnetz supply versorgung vbat vbatt ubat vpwr',
  system: 'ecu system module',
  voltage: 'voltage volts volt spannung tension voltaje tensao tensione napiecie spanning u',
  gear: 'gear gang rapport marcha marcia bieg versnelling fahrstufe',
  engaged: 'engaged selected eingelegt engage',
  lambda: 'lambda afr wideband wb mixture gemisch melange mezcla mistura miscela mieszanka mieszanki mengsel λ',
  ratio: 'ratio equivalence equiv equivalenz verhaltnis verhaeltnis rapporto',
  ignition:
    'ignition ign spark timing zund zuend zundung zuendung zundwinkel zuendwinkel allumage encendido ignicao accensione zaplon zaplonu ontsteking',
  advance: 'advance adv avance anticipo avanco wyprzedzenie wyprzedzenia vervroeging zundzeitpunkt zuendzeitpunkt',
  knock: 'knock knk klopf klopfen cliquetis picado detonacion detonacao detonazione stukowe stukowego batida pingel',
  retard:
    'retard retarded ret retardo retraso ritardo opoznienie rucknahme ruecknahme zurucknahme pull pulled pulling kr retrait',
  correction: 'correction corr korrektur correccion correcao correzione korekta korekcja correctie',
  trim: 'trim trims ft korrekturwert',
  short: 'short shrt kurz kurzzeit court corto curto breve krotko krotkoterminowa fast kurzfristig kurzfristige stft',
  long: 'long lang langzeit largo longo lungo dlugo dlugoterminowa learnt learned slow langfristig langfristige adaptive ltft longterm',
  term: 'term terme termine plazo prazo',
  ethanol: 'ethanol etanol alcohol alkohol alcool flexfuel blend',
  content: 'content gehalt teneur contenido conteudo contenuto zawartosc flex',
  percent: 'percent percentage prozent',
  loop: 'loop closed regelkreis',
  status: 'status state zustand etat estado stato stan mode modus betriebsart',
  misfire: 'misfire misfires aussetzer zundaussetzer zuendaussetzer',
  code: 'dtc trouble code codes fehler fehlercodes',
  count: 'count counts counter cnt zahler zaehler anzahl number total',
  lamp: 'lamp light leuchte mil voyant warnleuchte',
  malfunction: 'malfunction check indicator fehlfunktion',
  cylinder: 'cyl cylinder zyl zylinder cylindre cilindro cylindra',
  bank: 'bank banc banco bancata bancada rzad b bk',
  absolute: 'abs absolute absolut absoluter absolu absolue absoluta absoluto assoluta bezwzgledne absoluut a',
  gauge: 'gauge gage',
  filler:
    'of the de du d la le les l del della dello da do dos das di der die sensor value wert valeur valor valore wartosc actual act ist measured current aktuell aktuelle mesure reel real signal primary main from by w',
  target:
    'target targ tgt desired des cmd command commanded request requested req demand demanded setpoint soll sollwert consigne objetivo obiettivo reference zadane zadana zadany doel wunsch',
} as const;

export type Concept = keyof typeof WORDS;

let byWord: ReadonlyMap<string, Concept> | undefined;

/** What a folded word stands for. The table is made when first asked: a run with a mapping guesses nothing. */
function conceptOf(word: string): Concept | undefined {
  byWord ??= new Map(
    (Object.entries(WORDS) as [Concept, string][]).flatMap(([concept, words]) =>
      words.split(' ').map((word) => [word, concept] as const),
    ),
  );
  return byWord.get(word);
}

/** Lower case without accents: `Kühlmittel` → kuhlmittel, `Prędkość` → predkosc. */
export const foldAccents = (text: string): string =>
  text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '').replaceAll('ß', 'ss').replaceAll('ł', 'l');

/** Shortest word that counts as a part of a longer one. */
const LEAST_PART = 3;
/** Letters that join the parts of a compound. */
const JOINTS = ['', 's', 'n', 'en'];

/** A compound such as `Motordrehzahl` or `enginespeed` as its parts, where known words cover it whole. */
function partsOf(word: string): Concept[] | undefined {
  for (let cut = word.length; cut >= LEAST_PART; cut--) {
    const concept = conceptOf(word.slice(0, cut));
    if (!concept) continue;
    if (cut === word.length) return [concept];
    for (const joint of JOINTS) {
      if (!word.startsWith(joint, cut)) continue;
      const rest = partsOf(word.slice(cut + joint.length));
      if (rest) return [concept, ...rest];
    }
  }
  return undefined;
}

/** What the words of a name stand for; undefined where any word is unknown here. */
export function conceptsOf(words: readonly string[]): Concept[] | undefined {
  const concepts: Concept[] = [];
  for (const word of words) {
    const folded = foldAccents(word);
    const known = conceptOf(folded);
    const parts = known ? [known] : folded.length > 40 ? undefined : partsOf(folded);
    if (!parts) return undefined;
    concepts.push(...parts);
  }
  return concepts;
}
