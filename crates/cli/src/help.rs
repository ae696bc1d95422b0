//! What `--help` prints.

/// The whole help text.
pub const HELP: &str = "\
evenfeed-cli: what a stack of readings means, by the same core as the page.

USE
  evenfeed-cli evaluate < readings.jsonl > meanings.jsonl
  evenfeed-cli --help | --version

EVALUATE
  Reads JSON Lines on standard input: one object on each line. Writes one JSON line for each line
  that is not blank. A bad line gives {\"error\": {line, field, value, range, message, remedy}}; the
  others still run.
  Exit status: 0 all good, 2 a bad line or a bad command, 1 input or output failed.

REQUIRED
  refrigerant             R-22 R-134a R-32 R-410A R-407C R-404A R-507A R-290 R-1234yf R-454B
                          R-448A R-449A R-421A R-422D R-427A
  altitude_ft             ft; not needed with barometer_psia or with sealed or absolute gauges
  suction_pressure_psig   suction_line_temp_f   liquid_pressure_psig   liquid_line_temp_f

OPTIONAL: THE JOB
  metering                txv (default), txv-fixed, eev, orifice
  nominal_tons            tons of refrigeration
  measuring_point         bulb (default), service-valve: where the suction readings belong to
  target_point            bulb, service-valve: the point the superheat target is for
  line_loss_psi           psi added to the suction gauge when it is at the service valve and the
                          thermometer at the bulb
  gauge_reference         vented (default), sealed (at sea level), absolute
  barometer_psia          psia; overrides the altitude
  superheat_target_f      [low, high], °F of difference
  subcooling_target_f     [low, high], °F of difference
  target_pedigree         data-plate (default when a target is given), maker, protocol,
                          rule-of-thumb
  minimum_superheat_f     °F of difference, default 5
  gate_held               true (default) when the checks before the stem hold
  instruments             {low_psi, high_psi, temperature_f}: limits of error; default 3.5 psi,
                          7 psi, 1.3 °F + 0.1 % of reading

OPTIONAL: READINGS
  condenser_air_f (entering the coil)  open_air_f (open shade)  return_dry_bulb_f
  return_wet_bulb_f  supply_dry_bulb_f  condenser_leaving_air_f  drier_in_f  drier_out_f
  liquid_line_end_f (at the valve inlet)  discharge_temp_f  compressor_suction_temp_f
  coil_pressure_psig  amps_percent  suction_pressure_low_psig  suction_pressure_high_psig
  standing_pressure_psig  standing_air_f (system off, equalised)
  bulb_answer             rises, nothing: suction with the bulb in a warm hand

OUTPUT
  suction_saturation_f (dew), superheat_f, liquid_saturation_f (bubble), subcooling_f and the other
  derived numbers; *_band_f is the half-width of each error band (root sum square of the
  instruments' limits); null where something was not read. superheat_verdict and
  subcooling_verdict: in-band, below, above, cannot-tell. alarm: liquid-possible, below-minimum.
  doubts: entries that were used and are questioned. findings: [{cause, weight, evidence,
  next_test}], best first, weights 0 to 1 summing to 1. charge_advice: add, remove, leave,
  recharge, unknown, with charge_reason (a sentence) and charge_reason_id. ignored_fields: keys
  that mean nothing here.

CAUSES
  no-fault valve-underfeeding valve-overfeeding bulb-contact low-charge overcharge
  liquid-restriction suction-restriction low-airflow low-load high-load condenser-fouled
  hot-air-recirculation non-condensables weak-compressor wrong-refrigerant

The data plate, local code and licensed practice rule over any figure here.
";
