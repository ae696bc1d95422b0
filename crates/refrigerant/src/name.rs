//! Which refrigerants there are, how they are written, what is in them and how they burn.

/// A refrigerant this project has tables for.
///
/// To add one: a row here, a row in `line.rs` and in `generate/reference.py`, then
/// `cargo xtask generate`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Refrigerant {
    /// R-22.
    R22,
    /// R-134a.
    R134a,
    /// R-32.
    R32,
    /// R-410A.
    R410A,
    /// R-407C.
    R407C,
    /// R-404A.
    R404A,
    /// R-507A.
    R507A,
    /// R-290, propane.
    R290,
    /// R-1234yf.
    R1234yf,
    /// R-454B.
    R454B,
    /// R-448A.
    R448A,
    /// R-449A.
    R449A,
    /// R-421A.
    R421A,
    /// R-422D.
    R422D,
    /// R-427A.
    R427A,
}

/// Toxicity and flammability. All refrigerants here are of lower toxicity, class A.
///
/// # Source
/// ANSI/ASHRAE Standard 34.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SafetyClass {
    /// No flame propagation.
    A1,
    /// Lower flammability, slow to burn.
    A2L,
    /// Higher flammability.
    A3,
}

impl SafetyClass {
    /// As printed on a data plate: `A1`, `A2L` or `A3`.
    pub const fn key(self) -> &'static str {
        match self {
            Self::A1 => "A1",
            Self::A2L => "A2L",
            Self::A3 => "A3",
        }
    }

    /// In words a technician reads at a glance.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::A1 => "does not spread flame",
            Self::A2L => "mildly flammable",
            Self::A3 => "highly flammable",
        }
    }
}

struct Facts {
    name: &'static str,
    class: SafetyClass,
    components: &'static str,
}

impl Refrigerant {
    /// Every refrigerant, in the order they are offered.
    pub const ALL: [Self; 15] = [
        Self::R22,
        Self::R134a,
        Self::R32,
        Self::R410A,
        Self::R407C,
        Self::R404A,
        Self::R507A,
        Self::R290,
        Self::R1234yf,
        Self::R454B,
        Self::R448A,
        Self::R449A,
        Self::R421A,
        Self::R422D,
        Self::R427A,
    ];

    /// Names, safety groups and compositions.
    ///
    /// Source: ANSI/ASHRAE Standard 34 as printed in the 2021 ASHRAE Handbook - Fundamentals,
    /// chapter 29, tables 1 and 2; except where the row says otherwise. The compositions of the
    /// six blends computed as mixtures are those of CoolProp 8.0.0 too.
    const fn facts(self) -> Facts {
        use SafetyClass::{A1, A2L, A3};
        const fn row(name: &'static str, class: SafetyClass, components: &'static str) -> Facts {
            Facts {
                name,
                class,
                components,
            }
        }
        match self {
            Self::R22 => row("R-22", A1, "CHClF2, pure"),
            Self::R134a => row("R-134a", A1, "CH2FCF3, pure"),
            Self::R32 => row("R-32", A2L, "CH2F2, pure"),
            Self::R410A => row("R-410A", A1, "R-32/125, 50/50 % by mass"),
            Self::R407C => row("R-407C", A1, "R-32/125/134a, 23/25/52 % by mass"),
            Self::R404A => row("R-404A", A1, "R-125/143a/134a, 44/52/4 % by mass"),
            Self::R507A => row("R-507A", A1, "R-125/143a, 50/50 % by mass"),
            Self::R290 => row("R-290", A3, "propane (C3H8), pure"),
            // Formula and class: from memory; not in the chapter's rows at hand.
            Self::R1234yf => row("R-1234yf", A2L, "CF3CF=CH2, pure"),
            Self::R454B => row("R-454B", A2L, "R-32/1234yf, 68.9/31.1 % by mass"),
            Self::R448A => row(
                "R-448A",
                A1,
                "R-32/125/1234yf/134a/1234ze(E), 26/26/20/21/7 % by mass",
            ),
            Self::R449A => row(
                "R-449A",
                A1,
                "R-32/125/1234yf/134a, 24.3/24.7/25.3/25.7 % by mass",
            ),
            // Composition: CoolProp 8.0.0. Class: from memory.
            Self::R421A => row("R-421A", A1, "R-125/134a, 58/42 % by mass"),
            Self::R422D => row("R-422D", A1, "R-125/134a/600a, 65.1/31.5/3.4 % by mass"),
            // Composition: CoolProp 8.0.0. Class: from memory.
            Self::R427A => row("R-427A", A1, "R-32/125/143a/134a, 15/25/10/50 % by mass"),
        }
    }

    /// The name as the trade prints it, for example `R-410A`.
    pub const fn name(self) -> &'static str {
        self.facts().name
    }

    /// Reads a name as people type it: `R-410A`, `r410a`, `410A` or `R 410A`, blanks around it
    /// allowed. `None` for anything else; a near miss is never taken for a refrigerant.
    ///
    /// # Example
    /// ```
    /// use refrigerant::Refrigerant;
    /// assert_eq!(Refrigerant::from_name(" r-1234YF "), Some(Refrigerant::R1234yf));
    /// assert_eq!(Refrigerant::from_name("R-410B"), None);
    /// ```
    pub fn from_name(text: &str) -> Option<Self> {
        let text = text.trim();
        let number = text.strip_prefix(['R', 'r']).map_or(text, |after| {
            after.strip_prefix(['-', ' ']).unwrap_or(after)
        });
        Self::ALL.into_iter().find(|one| {
            one.name()
                .strip_prefix("R-")
                .is_some_and(|own| own.eq_ignore_ascii_case(number))
        })
    }

    /// Its safety group.
    pub const fn safety_class(self) -> SafetyClass {
        self.facts().class
    }

    /// What is in it, in one line for the screen.
    pub const fn components(self) -> &'static str {
        self.facts().components
    }
}
