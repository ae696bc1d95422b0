//! Every quantity a person can enter: one row each.

/// What a field measures, and so which unit, instrument and screen control it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A pressure by the suction gauge.
    LowPressure,
    /// A pressure by the liquid gauge.
    HighPressure,
    /// A temperature.
    Temperature,
    /// Percent.
    Percent,
}

/// When the screen offers a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Group {
    /// The four that superheat and subcooling need.
    Main,
    /// Air at the two coils.
    Air,
    /// Along the liquid line.
    LiquidLine,
    /// At the compressor.
    Compressor,
    /// A needle that swings: its lowest and highest over a minute.
    Swing,
    /// With the system off and equalised.
    Standing,
}

impl Group {
    /// Every group, in the order they are offered.
    pub const ALL: [Self; 6] = [
        Self::Main,
        Self::Air,
        Self::LiquidLine,
        Self::Compressor,
        Self::Swing,
        Self::Standing,
    ];

    /// Its heading.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Main => "Gauges and pipes",
            Self::Air => "Air at both coils",
            Self::LiquidLine => "Along the liquid line",
            Self::Compressor => "At the compressor",
            Self::Swing => "Needle swinging?",
            Self::Standing => "Standing, system off",
        }
    }
}

macro_rules! fields {
    ($($name:ident $key:literal $kind:ident $group:ident $label:literal
       hard $hard_low:literal $hard_high:literal usual $usual_low:literal $usual_high:literal
       $hint:literal $remedy:literal;)*) => {
        /// A quantity a person can enter. Its key ends in the unit its number is in.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Field { $(#[doc = $label] $name,)* }

        impl Field {
            /// Every field, in the order they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// The row that says everything about it.
            pub const fn row(self) -> &'static Row {
                match self {
                    $(Self::$name => &Row {
                        key: $key, kind: Kind::$kind, group: Group::$group, label: $label,
                        hard: ($hard_low, $hard_high), usual: ($usual_low, $usual_high),
                        hint: $hint, remedy: $remedy,
                    },)*
                }
            }
        }
    };
}

/// What is known of a field. Numbers are in the unit that `key` ends in.
#[derive(Debug)]
pub struct Row {
    /// Its name in files and on the command line, with the unit.
    pub key: &'static str,
    /// What it measures.
    pub kind: Kind,
    /// When it is offered.
    pub group: Group,
    /// Its name for a person.
    pub label: &'static str,
    /// Outside these it is refused.
    pub hard: (f64, f64),
    /// Outside these it is kept, and questioned.
    pub usual: (f64, f64),
    /// Where and how to measure it.
    pub hint: &'static str,
    /// What to look at first when the number cannot be right.
    pub remedy: &'static str,
}

// Hard limits: what instruments of the trade can show at all. Usual limits: a cooling system that
// runs, with room to spare. Both common practice, no source.
fields! {
    SuctionPressure "suction_pressure_psig" LowPressure Main "Suction pressure"
        hard -14.7 450.0 usual 15.0 220.0
        "At the port or coil tee named on Job" "Check which hose is on which port, and the refrigerant.";
    SuctionLine "suction_line_temp_f" Temperature Main "Suction line"
        hard -60.0 250.0 usual 15.0 95.0
        "On clean pipe beside the bulb, probe strapped and insulated" "Check the probe's contact and the unit, °C or °F.";
    LiquidPressure "liquid_pressure_psig" HighPressure Main "Liquid pressure"
        hard -14.7 800.0 usual 60.0 550.0
        "Liquid port at the outdoor unit" "Check which hose is on which port, and the refrigerant.";
    LiquidLine "liquid_line_temp_f" Temperature Main "Liquid line"
        hard -60.0 250.0 usual 45.0 145.0
        "At the same place as the liquid port, insulated from air and sun" "Check the probe's contact and the unit, °C or °F.";
    CondenserAir "condenser_air_f" Temperature Air "Air entering condenser"
        hard -60.0 180.0 usual 50.0 130.0
        "Average of the air going into the coil, sensor shaded" "Shade the sensor; average several places on the coil face.";
    OpenAir "open_air_f" Temperature Air "Open-shade air"
        hard -60.0 150.0 usual 50.0 120.0
        "In shade, well away from the unit and its hot discharge" "Move out of the sun and away from hot walls.";
    ReturnDryBulb "return_dry_bulb_f" Temperature Air "Return air, dry bulb"
        hard -20.0 150.0 usual 55.0 100.0
        "At the equipment, after the air has mixed" "Measure at the equipment, not at a grille.";
    ReturnWetBulb "return_wet_bulb_f" Temperature Air "Return air, wet bulb"
        hard -20.0 120.0 usual 45.0 82.0
        "Same place; wick clean and wet" "Wet the wick; a dry wick reads dry bulb.";
    SupplyDryBulb "supply_dry_bulb_f" Temperature Air "Supply air, dry bulb"
        hard -20.0 150.0 usual 38.0 75.0
        "Past the coil, out of its sight, after mixing" "Keep the sensor from seeing the cold coil.";
    CondenserLeavingAir "condenser_leaving_air_f" Temperature Air "Air leaving condenser"
        hard -60.0 220.0 usual 60.0 165.0
        "In the discharge stream; mind the fan" "Keep clear of moving blades.";
    DrierIn "drier_in_f" Temperature LiquidLine "Drier inlet"
        hard -60.0 250.0 usual 45.0 145.0
        "Same thermometer for inlet and outlet" "Use one thermometer for both ends.";
    DrierOut "drier_out_f" Temperature LiquidLine "Drier outlet"
        hard -60.0 250.0 usual 45.0 145.0
        "Same thermometer for inlet and outlet" "Use one thermometer for both ends.";
    LiquidLineEnd "liquid_line_end_f" Temperature LiquidLine "Liquid line at valve inlet"
        hard -60.0 250.0 usual 45.0 145.0
        "Just before the valve and its screen" "Same thermometer as on the liquid line.";
    DischargeLine "discharge_temp_f" Temperature Compressor "Discharge line"
        hard -40.0 400.0 usual 90.0 225.0
        "About 6 in from the compressor. Hot: burns" "A strapped probe, insulated; mind the burn.";
    CompressorSuction "compressor_suction_temp_f" Temperature Compressor "Suction line at compressor"
        hard -60.0 250.0 usual 15.0 95.0
        "4 to 6 in from the compressor" "Check the probe's contact.";
    CoilPressure "coil_pressure_psig" LowPressure Compressor "Suction pressure at the coil"
        hard -14.7 450.0 usual 15.0 220.0
        "At the coil outlet, if a port is there" "Same gauge moved, if you can.";
    Amps "amps_percent" Percent Compressor "Compressor amps, share of plate"
        hard 0.0 400.0 usual 30.0 125.0
        "Clamp reading as percent of the plate's amps" "Clamp one conductor only.";
    SuctionLow "suction_pressure_low_psig" LowPressure Swing "Needle low"
        hard -14.7 450.0 usual 5.0 220.0
        "Lowest suction pressure over one minute" "Watch a whole minute.";
    SuctionHigh "suction_pressure_high_psig" LowPressure Swing "Needle high"
        hard -14.7 450.0 usual 15.0 240.0
        "Highest suction pressure over one minute" "Watch a whole minute.";
    StandingPressure "standing_pressure_psig" LowPressure Standing "Standing pressure"
        hard -14.7 600.0 usual 20.0 350.0
        "Compressor off, both sides equal, condenser air in = air out" "Wait until both gauges agree and stop moving.";
    StandingAir "standing_air_f" Temperature Standing "Air round the condenser"
        hard -60.0 150.0 usual 35.0 125.0
        "The air the whole circuit has come to" "Run the condenser fan until air in equals air out.";
}

impl Field {
    /// How many there are.
    pub const COUNT: usize = Self::ALL.len();

    /// The field with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL
            .iter()
            .copied()
            .find(|field| field.row().key == key)
    }
    /// Its place in [`Field::ALL`].
    pub const fn index(self) -> usize {
        self as usize
    }
}

impl Group {
    /// Whether the record has a line for each of its fields even when blank: what a full reading
    /// holds. A swing is an observation of the moment.
    pub const fn is_in_record(self) -> bool {
        !matches!(self, Self::Swing)
    }
}
