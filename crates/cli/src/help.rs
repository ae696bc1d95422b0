//! What `--help` prints.

/// The whole help text.
pub const HELP: &str = "\
evenfeed-cli: what a stack of readings means, by the same core as the page.

USE
  evenfeed-cli evaluate < readings.jsonl > meanings.jsonl
  evenfeed-cli simulate < scenario.json > readings.jsonl
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

SIMULATE
  Reads one JSON object on standard input and writes a JSON line for each interval. The plant starts
  at rest. A scenario that cannot be, or a plant that runs out of the model (head above all), ends
  with {\"error\": {field, value, range, message}} and exit status 2.
  system                  {refrigerant, nominal_tons, ...}; optional: metering (txv, txv-fixed, eev,
                          orifice), equalizer (external, internal), line_length_ft,
                          liquid_line_inner_in, suction_line_inner_in, design_superheat_f,
                          design_subcooling_f, plate_charge_lb, superheat_per_turn_f,
                          stem_turns_out, stem_turns_in (from the design setting to the ends),
                          bulb_lag_s, friction_share (of lift), valve_size_share, bulb_limit_psia,
                          compressor {flow_lb_h, power_w}: ten AHRI 540 coefficients each, in °F
  conditions              {outdoor_f, return_dry_bulb_f, return_wet_bulb_f, altitude_ft}; default
                          95, 80, 67 °F at 0 ft
  faults                  {cause: size}, 0 is sound. Shares lost: low-charge, valve-underfeeding
                          (area), bulb-charge-lost, bulb-contact, low-airflow, condenser-fouled
                          (air), weak-compressor (flow). Gained: overcharge, valve-overfeeding.
                          Times more resistance: liquid-restriction, suction-restriction,
                          screen-blocked (of the liquid line's own). hot-air-recirculation: share of
                          condenser air. non-condensables: psi. needle-stuck: lift, 0 to 1
  stem_turns              where the stem stands, turns clockwise from the design setting; default 0
  events                  [{t_s, turn, charge_oz, faults, conditions}]: turn signed, clockwise
                          positive, by quarters; charge_oz signed; the rest replaces what it names
  duration_s, interval_s  s; interval_s 30 when left out
  measuring_point         bulb (default), service-valve: where the suction readings are taken
  late_share, late_minutes  part of each change that comes late, and its lag; default 0.25, 6 min
  Lines: t_s, suction_pressure_psig, superheat_f, subcooling_f, liquid_pressure_psig,
  liquid_line_temp_f, suction_line_temp_f, mass_flow_lb_h, capacity_btu_h, power_w, stem_turns,
  supply_dry_bulb_f, condenser_air_f, condenser_leaving_air_f, liquid_line_end_f, discharge_temp_f,
  lift_share (of the needle). Pressures over the local air. Power is the compressor's alone.

The data plate, local code and licensed practice rule over any figure here.
";
