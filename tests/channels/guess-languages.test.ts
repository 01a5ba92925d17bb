import { describe, expect, it } from 'vitest';
import { channelByName } from '../../src/channels/guess-name.ts';

// Words of each language as dictionaries and workshop manuals have them; from memory, no published list.
const NAMES: Readonly<Record<string, readonly string[]>> = {
  engine_speed: [
    'Engine Speed [rpm]',
    'EngineSpeed',
    'engine_rpm',
    'Motordrehzahl (1/min)',
    'Régime moteur [tr/min]',
    'Régimen del motor',
    'Giri motore',
    'Rotação do motor',
    'Obroty silnika [obr/min]',
    'Prędkość obrotowa silnika',
    'Toerental motor',
  ],
  vehicle_speed: [
    'Vehicle Speed (km/h)',
    'Road speed',
    'Fahrzeuggeschwindigkeit [km/h]',
    'Vitesse véhicule',
    'Velocidad del vehículo',
    'Velocità veicolo',
    'Velocidade do veículo',
    'Prędkość pojazdu',
    'Snelheid',
  ],
  throttle_position: [
    'Throttle position',
    'Drosselklappenstellung [%]',
    'Position papillon',
    'Posición de la mariposa',
    'Posizione farfalla',
    'Posição da borboleta',
    'Położenie przepustnicy',
  ],
  accelerator_position: [
    'Accelerator pedal position D',
    'Fahrpedalstellung',
    'Position pédale accélérateur',
    'Posición del pedal acelerador',
    'Posizione pedale acceleratore',
    'Pozycja pedału gazu',
  ],
  manifold_pressure: [
    'Intake Manifold Absolute Pressure [kPa]',
    'MAP_kPa',
    'Saugrohrdruck [mbar]',
    'Ladedruck',
    'Pression collecteur',
    'Pression de suralimentation',
    'Presión del colector de admisión',
    'Pressione collettore aspirazione',
    'Pressão do coletor de admissão',
    'Ciśnienie w kolektorze dolotowym',
    'Ciśnienie doładowania',
    'Turbo pressure',
  ],
  manifold_pressure_target: ['Boost target', 'Ladedruck Soll [mbar]', 'MAP_target'],
  barometric_pressure: [
    'Barometric pressure',
    'Umgebungsdruck [hPa]',
    'Pression atmosphérique',
    'Presión barométrica',
    'Pressione atmosferica',
    'Ciśnienie atmosferyczne',
  ],
  intake_air_temperature: [
    'Intake Air Temperature',
    'Ansauglufttemperatur [°C]',
    "Température d'air admission",
    'Temperatura aire admisión',
    'Temperatura aria aspirata',
    'Temperatura powietrza dolotowego',
  ],
  charge_air_temperature: ['Charge air temp', 'Ladelufttemperatur', 'Temperature after intercooler'],
  coolant_temperature: [
    'Engine coolant temperature [°F]',
    'Kühlmitteltemperatur',
    'Kuehlwassertemperatur',
    'Température liquide de refroidissement',
    'Temperatura del refrigerante',
    'Temperatura acqua motore',
    'Temperatura cieczy chłodzącej',
    'Temperatura płynu chłodzącego',
    'Koelvloeistoftemperatuur',
    'Water temp',
  ],
  oil_temperature: [
    'Oil temperature',
    'Öltemperatur',
    'Température huile',
    'Temperatura del aceite',
    'Temperatura oleju',
  ],
  mass_air_flow: [
    'Mass air flow',
    'Luftmassenstrom [kg/h]',
    'Air Flow Rate from Mass Flow Sensor',
    'Caudal masa de aire',
  ],
  injector_pulse_width: [
    'Injector pulse width',
    'Einspritzzeit [ms]',
    "Temps d'injection",
    'Tiempo de inyección',
    'Tempo di iniezione',
    'Czas wtrysku',
  ],
  spark_advance: [
    'Ignition timing',
    'Zündwinkel',
    'Avance allumage',
    'Anticipo accensione',
    'Kąt wyprzedzenia zapłonu',
  ],
  short_term_fuel_trim_1: [
    'Short term fuel trim bank 1',
    'Kurzzeit Kraftstoffkorrektur Bank 1',
    'Trim fast 1',
    'STFT1',
  ],
  long_term_fuel_trim_2: [
    'Long term fuel trim bank 2',
    'Langzeit Kraftstoffkorrektur Bank 2',
    'Trim learnt 2',
    'LTFT2',
  ],
  knock_retard_3: ['Knock retard cylinder 3', 'KR3', 'Timing correction 3', 'Klopf Zylinder 3 Rücknahme'],
  battery_voltage: [
    'Battery voltage',
    'Batteriespannung',
    'Tension batterie',
    'Voltaje de la batería',
    'Napięcie akumulatora',
  ],
  gear: ['Gear', 'Gang', 'Rapport engagé', 'Marcha', 'Bieg'],
  lambda_target: ['Commanded equivalence ratio', 'Lambda target', 'AFR Soll'],
};

describe('names in several languages', () => {
  it.each(Object.entries(NAMES).flatMap(([id, names]) => names.map((name) => [name, id] as const)))(
    '%s is %s',
    (name, id) => {
      expect(channelByName(name)?.id).toBe(id);
    },
  );
});

describe('what only sounds like a channel', () => {
  it.each([
    'Turbo speed',
    'Wheel speed FL',
    'Cooling fan',
    'Ambient air temperature',
    'Catalyst temperature bank 1',
    'Fuel level',
    'Fuel tank pressure',
    'Oil pressure',
    'Boost error',
    'RPM limit',
    'Throttle rate of change',
    'Relative throttle position',
    'Brake pressure',
    'Tyre pressure front left',
    'Misfire cylinder 2 flag',
    'Short term trim cylinder 5',
    'Engine torque',
  ])('%s is nothing', (name) => {
    expect(channelByName(name)).toBeUndefined();
  });

  it('a name of any length ends at once', () => {
    expect(channelByName(`${'motor'.repeat(4000)}x`)).toBeUndefined();
  });
});
