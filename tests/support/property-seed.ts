import fc from 'fast-check';

/** Property tests draw the same cases on every machine; PROPERTY_SEED draws others. */
fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 20261125) });
