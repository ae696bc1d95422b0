//! Words a person writes about a job.

macro_rules! names {
    ($($name:ident $key:literal $label:literal $hint:literal;)*) => {
        /// A line of free text in a job.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Name { $(#[doc = $label] $name,)* }

        impl Name {
            /// Every one, in the order they are offered.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];
            /// Its name in files.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }
            /// Its name for a person.
            pub const fn label(self) -> &'static str {
                match self { $(Self::$name => $label,)* }
            }
            /// An example.
            pub const fn hint(self) -> &'static str {
                match self { $(Self::$name => $hint,)* }
            }
        }
    };
}
names! {
    Place "place" "Where" "Shop, room or roof";
    Unit "unit" "Which unit" "Tag, model or place on the roof";
    Technician "technician" "Technician" "Who signs";
    Complaint "complaint" "What was reported" "When, sudden or slow, who worked on it last";
    Remark "remark" "Remark for the record" "Anything the next person should know";
}
crate::keyed::keyed! { Name => "name", *Name::ALL, Name::key; }
