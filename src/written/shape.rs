//! Records and choices: values made of named parts.

use ron2::ast::{StructBody, StructField};

use super::value::{count, mismatch};
use super::{Expr, Problems, Span, Written, nearest, shown};

/// A struct that is read from named fields, `(id: "x", via: [])` or `Name(id: "x", via: [])`.
///
/// A field with a default, `via: Vec<String> = Vec::new()`, may be left out. The name is that of the
/// struct, without an `AsWritten` at its end.
#[macro_export]
macro_rules! record {
    (@default) => { None };
    (@default $default:expr) => { Some(|| $default) };

    (@read $fields:expr, $problems:ident, [$($made:tt)+], $($field:ident: $value:ty $(= $default:expr)?),*) => {{
        let fields = $fields;
        $(let $field = fields.take::<$value>(stringify!($field), $crate::record!(@default $($default)?), $problems);)*
        // Only here, after every field has told its problems.
        fields.sound()?;
        Some($($made)+ { $($field: $field?),* })
    }};

    (
        $(#[$meta:meta])*
        $vis:vis struct $name:ident {
            $($(#[$field_meta:meta])* $field_vis:vis $field:ident: $value:ty $(= $default:expr)?),+ $(,)?
        }
    ) => {
        $(#[$meta])*
        $vis struct $name {
            $($(#[$field_meta])* $field_vis $field: $value),*
        }

        impl $crate::written::Written for $name {
            fn expected() -> String {
                $crate::written::Fields::expected(stringify!($name))
            }

            fn example() -> String {
                $crate::written::Fields::example(&[$(stringify!($field)),*])
            }

            fn forms() -> Vec<$crate::written::Form> {
                vec![$crate::written::Form { name: "", fields: &[$(stringify!($field)),*] }]
            }

            fn read(expr: &$crate::written::Expr<'_>, problems: &mut $crate::written::Problems) -> Option<Self> {
                $crate::record!(
                    @read
                    $crate::written::Fields::of::<Self>(expr, stringify!($name), &[$(stringify!($field)),*], problems)?,
                    problems,
                    [Self],
                    $($field: $value $(= $default)?),*
                )
            }
        }
    };
}

/// An enum that is read from the name of a variant: bare, with one value, `LidBelow(40)`, or with
/// named fields as in a [`record!`](crate::record!), `Open(at: "latch")`.
#[macro_export]
macro_rules! choice {
    (@form $name:ident) => { stringify!($name) };
    (@form $name:ident $body:tt) => { concat!(stringify!($name), "(..)") };

    (@read $variant:ident, $problems:ident, $name:ident) => {
        $variant.alone($problems).map(|()| Self::$name)
    };
    (@read $variant:ident, $problems:ident, $name:ident ($value:ty)) => {
        $variant.one::<$value>($problems).map(Self::$name)
    };
    (@read $variant:ident, $problems:ident, $name:ident { $($field:ident: $value:ty $(= $default:expr)?),* }) => {
        $crate::record!(
            @read
            $variant.fields(&[$(stringify!($field)),*], $problems)?,
            $problems,
            [Self::$name],
            $($field: $value $(= $default)?),*
        )
    };

    (
        $(#[$meta:meta])*
        $vis:vis enum $name:ident {
            $(
                $(#[$variant_meta:meta])*
                $variant:ident
                $(($one:ty))?
                $({ $($(#[$field_meta:meta])* $field:ident: $value:ty $(= $default:expr)?),* $(,)? })?
            ),+ $(,)?
        }
    ) => {
        $(#[$meta])*
        $vis enum $name {
            $(
                $(#[$variant_meta])*
                $variant $(($one))? $({ $($(#[$field_meta])* $field: $value),* })?
            ),*
        }

        impl $crate::written::Written for $name {
            fn expected() -> String {
                $crate::written::Variant::expected(stringify!($name))
            }

            fn example() -> String {
                let forms = [$($crate::choice!(@form $variant $(($one))? $({ $($field)* })?)),*];
                forms[0].to_owned()
            }

            fn hint() -> String {
                $crate::written::Variant::hint(&[$($crate::choice!(@form $variant $(($one))? $({ $($field)* })?)),*])
            }

            fn forms() -> Vec<$crate::written::Form> {
                vec![$($crate::written::Form {
                    name: stringify!($variant),
                    fields: &[$($(stringify!($field)),*)?],
                }),*]
            }

            fn read(expr: &$crate::written::Expr<'_>, problems: &mut $crate::written::Problems) -> Option<Self> {
                let variant = $crate::written::Variant::of::<Self>(expr, &[$(stringify!($variant)),*], problems)?;
                let value = match variant.name() {
                    $(stringify!($variant) => $crate::choice!(
                        @read variant, problems, $variant
                        $(($one))? $({ $($field: $value $(= $default)?),* })?
                    ),)*
                    _ => None,
                };
                value.filter(|_| variant.sound())
            }
        }
    };
}

/// A form of a value: a record, or one variant of a choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Form {
    /// The variant; empty for a record.
    pub name: &'static str,
    /// The names of its fields, in their order.
    pub fields: &'static [&'static str],
}

/// The named fields of one value, in work for [`record!`](crate::record!) and
/// [`choice!`](crate::choice!).
#[derive(Debug)]
pub struct Fields<'e> {
    /// Where the value begins, which is the place of what it lacks.
    opening: Span,
    /// By the names they are known by. A misspelt one is among them: it has a value to be read, and
    /// is not missing.
    fields: Vec<(&'static str, &'e StructField<'e>)>,
    /// Whether a syntax error took some away, or the value is only taken for what it seems to be. Then
    /// nothing can be said about what is missing.
    doubtful: bool,
    /// Whether nothing was misspelt, unknown or taken away.
    sound: bool,
}

impl<'e> Fields<'e> {
    /// What a record is, in a message.
    pub fn expected(name: &str) -> String {
        format!("the fields of `{}`", plain(name))
    }

    /// How a record looks.
    pub fn example(known: &[&str]) -> String {
        let fields: Vec<_> = known.iter().map(|name| format!("{name}: ..")).collect();
        format!("({})", fields.join(", "))
    }

    /// The fields of the record `T`, which may have its name before them.
    pub fn of<T: Written>(
        expr: &'e Expr<'e>,
        name: &str,
        known: &[&'static str],
        problems: &mut Problems,
    ) -> Option<Self> {
        let name = plain(name);
        let body = match expr {
            Expr::Unit(_) => {
                let start = Span::of(expr).start;
                Some(Body { bracket: Span { start, end: start + 1 }, fields: &[] })
            }
            Expr::AnonStruct(record) => {
                Some(Body { bracket: (&record.open_paren).into(), fields: &record.fields })
            }
            Expr::Struct(named) => named.body.as_ref().and_then(Body::of),
            _ => None,
        };
        let Some(body) = body else {
            return mismatch::<T>(expr, T::hint(), problems).and(None);
        };
        let mut certain = true;
        if let Expr::Struct(named) = expr
            && plain(&named.name.name) != name
        {
            certain = false;
            let near = nearest(&named.name.name, [name].into_iter());
            let hint = meant(near, || format!("write `{name}(..)`, or leave the name out"));
            mismatch::<T>(expr, hint, problems);
            near?;
        }
        Some(Self::new(Span::of(expr).start, body, known, certain, problems))
    }

    fn new(
        start: usize,
        body: Body<'e>,
        known: &[&'static str],
        certain: bool,
        problems: &mut Problems,
    ) -> Self {
        let written = |name: &str| body.fields.iter().any(|field| field.name.name == name);
        let lacking: Vec<_> = known.iter().copied().filter(|name| !written(name)).collect();
        let opening = Span { start, end: body.bracket.end };
        let doubtful = !certain || problems.is_spoiled(body.bracket);
        let mut it = Self { opening, fields: Vec::new(), doubtful, sound: !doubtful };
        for field in body.fields {
            let word = &*field.name.name;
            let name = known.iter().copied().find(|name| *name == word).or_else(|| {
                let near = nearest(word, lacking.iter().copied());
                let hint = meant(near, || format!("known here are {}", list(known)));
                problems.add((&field.name.span).into(), format!("there is no field {}", shown(word)), hint);
                it.sound = false;
                near
            });
            it.fields.extend(name.map(|name| (name, field)));
        }
        it
    }

    /// Reads the field `name`, or has its default.
    pub fn take<T: Written>(
        &self,
        name: &str,
        default: Option<fn() -> T>,
        problems: &mut Problems,
    ) -> Option<T> {
        let mut fields = self.fields.iter().filter(|(known, _)| *known == name).map(|(_, field)| *field);
        let Some(field) = fields.next() else {
            if default.is_none() && !self.doubtful {
                let hint = format!("add `{name}: {}`; it takes {}", T::example(), T::expected());
                problems.add(self.opening, format!("the field `{name}` is missing"), hint);
            }
            return default.map(|default| default());
        };
        let mut value = T::read(&field.value, problems);
        for again in fields {
            let what = format!("the field `{name}` is written twice");
            problems.add((&again.name.span).into(), what, "keep one of the two");
            // Whichever is kept, its own problems are to be told.
            T::read(&again.value, problems);
            value = None;
        }
        value
    }

    /// Something if all the fields have the right names and none was lost.
    pub fn sound(&self) -> Option<()> {
        self.sound.then_some(())
    }
}

/// The variant an enum was written as, in work for [`choice!`](crate::choice!).
#[derive(Debug)]
pub struct Variant<'e> {
    name: &'static str,
    span: Span,
    body: Option<&'e StructBody<'e>>,
    sound: bool,
}

impl<'e> Variant<'e> {
    /// What an enum is, in a message.
    pub fn expected(name: &str) -> String {
        format!("a kind of `{}`", plain(name))
    }

    /// How to write one.
    pub fn hint(forms: &[&str]) -> String {
        format!("write one of {}", list(forms))
    }

    /// Which of the known variants of `T` this is.
    pub fn of<T: Written>(
        expr: &'e Expr<'e>,
        known: &[&'static str],
        problems: &mut Problems,
    ) -> Option<Self> {
        let (word, span, body) = match expr {
            Expr::Struct(named) => (&*named.name.name, &named.name.span, named.body.as_ref()),
            // The syntax takes this word for an option's; here it can only be a variant.
            Expr::Option(option) if option.value.is_none() => ("None", &option.span, None),
            _ => return mismatch::<T>(expr, T::hint(), problems).and(None),
        };
        let span = Span::from(span);
        let known_as = known.iter().copied().find(|name| *name == word);
        let sound = known_as.is_some();
        let name = known_as.or_else(|| {
            let near = nearest(word, known.iter().copied());
            let what = format!("found {}, expected {}", shown(word), T::expected());
            problems.add(span, what, meant(near, T::hint));
            near
        });
        name.map(|name| Self { name, span, body, sound })
    }

    /// The name of the variant, or of the nearest.
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// Whether the name was written right.
    pub fn sound(&self) -> bool {
        self.sound
    }

    /// For a variant without a value.
    pub fn alone(&self, problems: &mut Problems) -> Option<()> {
        match self.body {
            None => Some(()),
            Some(StructBody::Tuple(body)) if body.elements.is_empty() && !self.is_spoiled(problems) => {
                Some(())
            }
            _ => self.misshapen("no value", "", problems),
        }
    }

    /// For a variant with one value.
    pub fn one<T: Written>(&self, problems: &mut Problems) -> Option<T> {
        match self.body {
            Some(StructBody::Tuple(body)) if body.elements.len() == 1 && !self.is_spoiled(problems) => {
                T::read(&body.elements[0].expr, problems)
            }
            _ => self.misshapen("one value", &format!("({})", T::example()), problems),
        }
    }

    /// For a variant with named fields.
    pub fn fields(&self, known: &[&'static str], problems: &mut Problems) -> Option<Fields<'e>> {
        let body = match self.body {
            None => Some(Body { bracket: self.span, fields: &[] }),
            Some(body) => Body::of(body),
        };
        match body {
            Some(body) => Some(Fields::new(self.span.start, body, known, self.sound, problems)),
            None => self.misshapen("named fields", &Fields::example(known), problems),
        }
    }

    fn is_spoiled(&self, problems: &Problems) -> bool {
        self.body.is_some_and(|body| problems.is_spoiled(bracket(body)))
    }

    fn misshapen<T>(&self, takes: &str, form: &str, problems: &mut Problems) -> Option<T> {
        let name = self.name;
        let has = match self.body {
            None => count(0),
            Some(StructBody::Fields(_)) => "named fields".to_owned(),
            Some(StructBody::Tuple(body)) => count(body.elements.len()),
        };
        // Of a misspelt name it is not certain what it takes.
        if self.sound && !self.is_spoiled(problems) {
            let what = format!("`{name}` takes {takes}, but has {has}");
            problems.add(self.span, what, format!("write `{name}{form}`"));
        }
        None
    }
}

/// What a record has between its brackets.
struct Body<'e> {
    /// The opening one, or the name that has none after it.
    bracket: Span,
    fields: &'e [StructField<'e>],
}

impl<'e> Body<'e> {
    /// The fields after a name, unless there are values without names.
    fn of(body: &'e StructBody<'e>) -> Option<Self> {
        let fields: &[_] = match body {
            StructBody::Fields(body) => &body.fields,
            StructBody::Tuple(body) if body.elements.is_empty() => &[],
            StructBody::Tuple(_) => return None,
        };
        Some(Self { bracket: bracket(body), fields })
    }
}

/// The bracket after a name.
pub(super) fn bracket(body: &StructBody<'_>) -> Span {
    match body {
        StructBody::Tuple(body) => (&body.open_paren).into(),
        StructBody::Fields(body) => (&body.open_brace).into(),
    }
}

/// The name of a type as its file knows it.
fn plain(name: &str) -> &str {
    name.strip_suffix("AsWritten").unwrap_or(name)
}

/// Names in a row, to choose from.
fn list(names: &[&str]) -> String {
    names.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// The cure for a wrong name: the one that was probably meant, or else what can be.
fn meant(near: Option<&str>, otherwise: impl FnOnce() -> String) -> String {
    near.map_or_else(otherwise, |near| format!("did you mean `{near}`?"))
}
