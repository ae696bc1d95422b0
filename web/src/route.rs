//! Addresses of screens: what stands after the `#`.

use job::Screen;

/// Where the person is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Route {
    /// The doors.
    #[default]
    Home,
    /// The list of kept jobs.
    Kept,
    /// Units, theme, what this is.
    About,
    /// The cases of the practice bench.
    Pick,
    /// The plant of a case, by the case's own address.
    Plant(String),
    /// A screen of a job.
    Job(String, Screen),
}

impl Route {
    /// Reads what stands after the `#`; what is not known leads home.
    pub(crate) fn read(hash: &str) -> Self {
        // As a case is written, and as it stands in an address of the page.
        let case = hash.trim_start_matches('/');
        let case = case.strip_prefix("bench/").unwrap_or(case);
        if case.starts_with("bench=") {
            return Self::Plant(case.to_owned());
        }
        let mut parts = hash.trim_start_matches('/').split('/');
        match (parts.next(), parts.next(), parts.next()) {
            (Some("kept"), ..) => Self::Kept,
            (Some("about"), ..) => Self::About,
            (Some("bench"), ..) => Self::Pick,
            (Some("at"), Some(id), screen) if !id.is_empty() => Self::Job(
                id.to_owned(),
                screen.and_then(Screen::from_key).unwrap_or_default(),
            ),
            _ => Self::Home,
        }
    }

    /// What stands after the `#`.
    pub(crate) fn hash(&self) -> String {
        match self {
            Self::Home => "/".to_owned(),
            Self::Kept => "/kept".to_owned(),
            Self::About => "/about".to_owned(),
            Self::Pick => "/bench".to_owned(),
            Self::Plant(address) => format!("/bench/{address}"),
            Self::Job(id, screen) => format!("/at/{id}/{}", screen.key()),
        }
    }
}
