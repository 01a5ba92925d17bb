import { wordsOf } from './header-unit.ts';

/** Words that mark a column as telling who, where or which car; English, German, French, Spanish, Italian, Dutch, Polish. */
const WORDS: ReadonlySet<string> = new Set(
  [
    'lat latitude lon lng long longitude longitud breitengrad längengrad laengengrad breite breddegrad latitudine longitudine szerokość długość',
    'gps gnss glonass nmea position positie pozycja posizione posición posicion posição posicao location localisation ubicación ubicacion lokalizacja standort ort',
    'latlon latlong latlng longlat lonlat easting northing geohash coordinate coordinates koordinaten coord coords',
    'altitudegps vin vinnumber vinno vinnr vinnummer vincode fin chassis fahrgestellnummer fahrgestell fahrzeugidentnummer fahrzeugidentifikationsnummer telaio bastidor châssis',
    'plate plates plateno platenumber registration regno regnr vrm vrn kennzeichen nummernschild placa chapa plaque immatriculation matricula matrícula targa kenteken rejestracja licence license numberplate licenceplate licenseplate',
    'driver drivername driverid owner ownername customer customername client clientname chauffeur fahrer fahrername halter besitzer kunde kundin conducteur propriétaire proprietaire conductor propietario cliente conducente proprietario bestuurder eigenaar klant kierowca właściciel klient',
    'name firstname lastname surname vorname nachname nom prénom nombre apellido nome cognome naam imię nazwisko',
    'address adresse dirección direccion indirizzo adres street strasse straße postcode postal zip',
    'phone telephone telefon téléphone telefono teléfono mobile handy email mail user username operator technician imei serial',
  ].flatMap((line) => line.split(' ')),
);

/** Parts that give a position away however they are joined to other words. */
const PARTS = /gps|gnss|latitud|longitud|breitengrad|l(ä|ae)ngengrad/i;

/** Names that a listed word does not make personal: what stands in the car, not who or where it is. */
const HARMLESS: readonly RegExp[] = [
  /throttle|pedal|pédale|pedaal|accelerator|accélérateur|accelerateur|acelerador|wastegate|actuator|valve|cam|crank|turbo|egr|flap|gear|drossel|nockenwelle|sensor/i,
  /papillon|mariposa|farfalla|borboleta|przepustnic|gasklep|capteur|clapet|válvula|valvula|valvola|injection/i,
  /lat(eral)?[\s_.]*(g|acc)|long(itudinal)?[\s_.]*(g|acc)|driver[\s_]*demand/i,
  /long.*(term|trim|fuel|ft)/i,
];
const SPEED = /speed|velocity|geschwindigkeit|vitesse|velocidad|velocit/i;

/** Position, VIN, plate, names and addresses: a column never to be read, named or shown. */
export function isPersonalColumn(name: string): boolean {
  if (PARTS.test(name)) return !SPEED.test(name);
  const words = wordsOf(name);
  const hit = words.some((word) => WORDS.has(word)) || WORDS.has(words.join(''));
  return hit && !HARMLESS.some((pattern) => pattern.test(name));
}

/** A column's name in a sentence, quoted; of a personal column that the mapping names all the same, nothing is shown. */
export const shownColumn = (name: string): string => (isPersonalColumn(name) ? '(removed)' : `"${name}"`);
