//! What `--help` prints.

/// The whole help text.
pub const HELP: &str = "\
evenfeed-cli: what a stack of readings means, by the same core as the page.

USE
  evenfeed-cli evaluate < readings.jsonl > meanings.jsonl
  evenfeed-cli coach < log.jsonl > advice.jsonl
  evenfeed-cli simulate < scenario.json > readings.jsonl
  evenfeed-cli bench --seed N --script FILE > debrief.json
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
  plate_charge_oz         charge by the plate with its line allowance, oz
  measuring_point         bulb (default), service-valve: where the suction readings belong to
  target_point            bulb, service-valve: the point the superheat target is for
  gauge_at_service_valve  true when the suction gauge is at the service valve and the thermometer at
                          the bulb; default false, or true when line_loss_psi is given
  line_loss_psi           psi then added to the suction gauge; default 2
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
  next_test}], best first, by the trade's table alone, weights 0 to 1 summing to 1.
  posterior: {cause: probability} by table and model of the plant together, summing to 1; two
  causes at once count half to each. posterior_pairs: [{causes, probability}], two causes at once
  that are probable enough to say. model_explains: how much of the reading the model explains, 0
  to 1; the rest is the table's. posterior_next_test: {says, minutes, gain_bits}, the test that
  takes most doubt away for a minute of work. charge_advice: add, remove, leave, recharge,
  unknown, with charge_reason (a sentence) and charge_reason_id. charge_step: only with add or
  remove, a small step {charge_share, charge_oz (with plate_charge_oz), subcooling_after_f,
  superheat_after_f}, the last two [value, half-width]. ignored_fields: keys that mean nothing
  here.

CAUSES
  no-fault valve-underfeeding valve-overfeeding bulb-contact low-charge overcharge
  liquid-restriction suction-restriction low-airflow low-load high-load condenser-fouled
  hot-air-recirculation non-condensables weak-compressor wrong-refrigerant

COACH
  Reads the log of one job as JSON Lines and writes one line for each line that is not blank: what
  the coach says of the log up to there. Errors and exit status as for evaluate; a bad line counts
  as not written. Every line but the first has t_min: minutes since the log began, 0 to 10080. Order
  does not matter: each answer is for the newest t_min so far. A line holds one of:
  job                     only as the first line, and not needed: {\"job\": {...}} with keys about the
                          job as for evaluate, and head_limit_psig (the plate's high-side limit,
                          psig, 100 to 800). The same keys may stand on any later line and hold from
                          there on. Used: refrigerant, metering, superheat_target_f (the rule of
                          thumb for the measuring point when left out), minimum_superheat_f,
                          instruments, and what turns gauge pressures into temperatures
  superheat_f             °F of difference, -40 to 150: a reading. The error of the tools follows
                          from instruments (at the pressure beside it, else at a coil of 40 °F; as
                          for R-410A when no refrigerant is named) or is given as superheat_band_f,
                          half-width, 0 to 20. Beside it the needle's swing
                          (suction_pressure_low_psig, suction_pressure_high_psig) and
                          liquid_pressure_psig count when the refrigerant is named; without an
                          altitude at sea level
  a full reading          fields as for evaluate; suction_pressure_psig and suction_line_temp_f at
                          least, with refrigerant and altitude_ft
  turn                    turns of the stem, by quarters, clockwise (closing) positive, -20 to 20
  stem_end                opening (counter-clockwise) or closing (clockwise): the stem met its end
  disturbed               true: charge, air, bulb or a part was changed; it settles afresh
  Lines out; null where unknown; each *_band_f is half of an interval that holds 9 of 10:
  t_min                   of the line read; null for the job
  wait                    drifting, settled or hunting
  settled_superheat_f, settled_superheat_band_f   where it settled (the mean while hunting), °F
  gain_f_per_turn, gain_band_f   rise of superheat for a clockwise turn, °F; before this valve has
                          answered a turn, what valves in general do
  next_turn               the turn to make now, by quarters, clockwise positive
  expected_superheat_f, expected_band_f   where superheat settles after next_turn, or without one
                          where it is on its way to, °F
  minutes_to_settle       from that turn, or without one from now; a guide, never a verdict
  stop                    null, at-target, stem-end, below-minimum, hunting, not-reachable,
                          wrong-way, no-response, high-head. below-minimum may carry a closing turn
  why                     the evidence and reasons, sentences, most urgent first
  A device without a stem gets no turn and no gain.

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

BENCH
  Runs a script on the practice bench and writes its debrief as one JSON object. A line that is no
  action, or that the bench refuses, ends it: {\"error\": {line, field, value, range, message,
  remedy}} and exit status 2. A script that does not leave is left at its end.
  --seed N                case number, 0 or more
  --case TEXT             the whole case, as in an address of the page: bench=N, then parts with ;
                          between: tons=2, 3, 5 or 7.5; metering=txv, txv-fixed, eev or orifice;
                          refrigerant=R-22, R-410A, R-32 or R-454B; difficulty=guided, sparing
                          (default) or alone; or lesson=KEY for a lesson of the house. Beside --seed
                          both must name the same number
  --script FILE           JSON Lines, one action each; - is standard input
  A line: {\"do\": action, its fields}. at_s, s since arrival: time goes by up to then first.
  look                    spot: filter, indoor-coil, outdoor-coil, surroundings, bulb, stem-cap,
                          liquid-line, suction-line
  connect-gauges          place of the suction hose: bulb, service-valve
  strap-probes            place of the suction thermometer, as above; wrapped: true, false
  turn-stem               quarters, clockwise positive, 1 to 8 either way
  add-charge, take-charge  ounces, over 0, at most 64
  wait                    seconds, whole, at most 14400
  call                    causes: a list of the causes above, at most four; empty takes it back
  Without fields: hang-air-probes clamp-amps change-filter clean-indoor-coil wash-condenser
  clear-recess strap-bulb warm-bulb watch-needle walk-liquid-line compare-suction search-leak
  standing-test recharge change-drier replace-valve clear-suction-line replace-compressor
  start-again leave
  Out: troubles, right (causes that may be called), path and good_path (samples each 30 s with
  at_s, superheat_f, subcooling_f, suction_psig, liquid_psig, stem_quarters; marks, harm in s and
  oz, minutes, money in invented shells, called, found, left), tool_says, scores with each lost
  point's at_s, points and reason, points, out_of, lesson_says.

The data plate, local code and licensed practice rule over any figure here.
";
