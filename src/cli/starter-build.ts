/** The build sheet that `init` writes. Whatever must be filled in is no valid value, so that no car is ever judged by somebody else's numbers. */
export const BUILD_STARTER = `// Build sheet: what this car is. Comments are allowed.
// Every quantity is a text with its unit: "2.0 L", "640 cc/min", "0.9 bar", "12 psi". Pressures are gauge unless written "... abs".
// Fill in the three lines that say FILL IN. Take the // from any other line that applies: each one lets more be answered.
{
  "$schema": "./pullgate.build.schema.json",
  "pullgate": "build/1",
  "title": "Car or job",
  "engine": {
    "displacement": "FILL IN, for example 2.0 L",
    "cylinders": 0, // FILL IN
    "redline": "FILL IN, for example 6900 rpm",
    // "strokes": 4,
    // "idle": "820 rpm",
    // "volumetricEfficiency": 0.9,
  },

  // How the calibration finds its air: "speed-density" or "mass-air-flow".
  // "airflow": "speed-density",

  // "fuel": { "ethanol": "10 %" },

  // Injectors, at the pressure they were rated at. Dead time by battery voltage.
  // "injectors": {
  //   "flow": "640 cc/min", "ratedPressure": "3 bar", "fuelPressure": "3 bar", "regulator": "manifold-referenced",
  //   "pulsesPerCycle": 1, "deadTime": [["12 V", "1.1 ms"], ["14 V", "0.8 ms"]]
  // },

  // Boost: "control" is "manual", "electronic" or "none". Any believable boost above the ceiling fails.
  // "boost": { "control": "manual", "wastegateCracking": ["0.3 bar", "0.4 bar"], "target": "0.8 bar", "ceiling": "1.1 bar" },

  // "bottomEnd": { "torqueLimit": "300 N m", "maxEthanol": "20 %" },
  // "mixture": { "fullLoadLambda": 0.82 },
  // "vehicle": { "mass": "1350 kg", "gearRatios": [3.3, 1.94, 1.31, 1.03, 0.82], "finalDrive": 3.94, "tyreCircumference": "1.93 m", "dragArea": "0.66 m2" },

  // The air on the day, used where the log does not tell.
  // "ambient": { "altitude": "600 m" },

  // What is unplugged on purpose, and the codes that this explains.
  // "expect": { "disconnected": ["mass_air_flow"], "ignoreCodes": ["P0102"] },

  // "nextStep": { "boost": "1.0 bar" },

  // Questions that must be answered before the gate opens without a warning.
  // "required": ["fuel-trim", "injector-duty", "boost-overshoot", "boost-spike", "boost-creep", "timing-pull"],

  // Limits in place of the defaults; "pullgate limits" lists them.
  // "limits": { "injector-duty.peak": { "warn": "80 %", "fail": "90 %" } },

  // "handback": [{ "item": "Fault memory read and clear", "done": false }],
}
`;
