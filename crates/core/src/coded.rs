//! Stable codes of reasons and their like, and how a room takes up those of another.

/// Gives types whose variants are named in kebab case (`strum::IntoStaticStr`) their code.
macro_rules! coded {
    ($($named:ty),+ $(,)?) => { $(
        impl $named {
            /// Returns the stable code of its kind, in kebab case, as documents have it.
            #[must_use]
            pub fn code(&self) -> &'static str {
                self.into()
            }
        }
    )+ };
}

/// Makes a value of what another room says, in a variant that holds nothing else.
macro_rules! takes_up {
    ($outer:ident: $($variant:ident { $field:ident: $inner:ty }),+ $(,)?) => { $(
        impl From<$inner> for $outer {
            fn from($field: $inner) -> Self {
                Self::$variant { $field }
            }
        }
    )+ };
}

pub(crate) use {coded, takes_up};
