//! What can be read, and the plain values.

use ron2::ast::NumberKind;
use ron2::convert::parse_int_raw;

use super::shape::bracket;
use super::{At, Expr, Form, Problems, Span, shown};

/// A value that can be read from a file.
pub trait Written: Sized {
    /// What such a value is, to end the sentence "expected …".
    fn expected() -> String;

    /// How such a value may look in a file.
    fn example() -> String;

    /// How to write such a value where something else was found.
    fn hint() -> String {
        format!("write it like `{}`", Self::example())
    }

    /// The forms that such a value takes, where it is made of named parts.
    fn forms() -> Vec<Form> {
        Vec::new()
    }

    /// Reads the value. Everything wrong with it goes to `problems`, of which there is at least one
    /// when there is no value.
    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self>;
}

/// Tells that `expr` is not a `T`, and comes to nothing.
pub(super) fn mismatch<T: Written>(expr: &Expr<'_>, hint: String, problems: &mut Problems) -> Option<T> {
    let told = matches!(expr, Expr::Error(_)) || opening(expr).is_some_and(|open| problems.is_spoiled(open));
    if !told {
        problems.add(Span::of(expr), format!("found {}, expected {}", found(expr), T::expected()), hint);
    }
    None
}

/// Where the bracket stands in which an expression has its parts.
fn opening(expr: &Expr<'_>) -> Option<Span> {
    match expr {
        Expr::Unit(_) | Expr::Seq(_) | Expr::Map(_) | Expr::Tuple(_) | Expr::AnonStruct(_) => {
            Some(Span::of(expr))
        }
        Expr::Option(option) => option.value.as_ref().map(|value| Span::from(&value.open_paren)),
        Expr::Struct(named) => named.body.as_ref().map(bracket),
        _ => None,
    }
}

/// What an expression is, in the words of someone who reads the file.
fn found(expr: &Expr<'_>) -> String {
    match expr {
        Expr::Bool(literal) => format!("`{}`", literal.value),
        Expr::Number(number) => format!("the number {}", shown(&number.raw)),
        Expr::String(_) => "a text".to_owned(),
        Expr::Char(_) | Expr::Byte(_) | Expr::Bytes(_) => "quoted bytes".to_owned(),
        Expr::Option(option) if option.value.is_none() => "`None`".to_owned(),
        Expr::Option(_) => "`Some(..)`".to_owned(),
        Expr::Seq(_) => "a list".to_owned(),
        Expr::Map(_) => "a map".to_owned(),
        Expr::Unit(_) => "empty brackets".to_owned(),
        Expr::Tuple(tuple) => format!("{} in brackets", count(tuple.elements.len())),
        Expr::AnonStruct(_) => "named fields".to_owned(),
        Expr::Struct(named) if named.body.is_none() => format!("the bare word {}", shown(&named.name.name)),
        Expr::Struct(named) => shown(&format!("{}(..)", named.name.name)),
        Expr::Error(_) => "something unreadable".to_owned(),
    }
}

/// So many values.
pub(super) fn count(values: usize) -> String {
    match values {
        0 => "no value".to_owned(),
        1 => "one value".to_owned(),
        many => format!("{many} values"),
    }
}

impl Written for String {
    fn expected() -> String {
        "a text".to_owned()
    }

    fn example() -> String {
        "\"some text\"".to_owned()
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        match expr {
            Expr::String(text) => Some(text.value.clone()),
            Expr::Struct(named) if named.body.is_none() => {
                let hint = format!("put it in double quotes: {}", shown(&format!("\"{}\"", named.name.name)));
                mismatch(expr, hint, problems)
            }
            _ => mismatch(expr, Self::hint(), problems),
        }
    }
}

impl Written for bool {
    fn expected() -> String {
        "`true` or `false`".to_owned()
    }

    fn example() -> String {
        "true".to_owned()
    }

    fn hint() -> String {
        "write `true` or `false`".to_owned()
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        match expr {
            Expr::Bool(literal) => Some(literal.value),
            _ => mismatch(expr, Self::hint(), problems),
        }
    }
}

impl Written for f64 {
    fn expected() -> String {
        "a number".to_owned()
    }

    fn example() -> String {
        "12.5".to_owned()
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        let Expr::Number(number) = expr else {
            return mismatch(expr, Self::hint(), problems);
        };
        let value = number.raw.replace('_', "").parse().ok().or_else(|| {
            // Whole numbers have notations of their own, such as 0xFF.
            let whole = parse_int_raw(&number.raw).ok()?;
            let size = whole.magnitude as f64;
            Some(if whole.negative { -size } else { size })
        });
        value.filter(|value: &f64| value.is_finite()).or_else(|| {
            let what = format!("{} is not a number that can be used", shown(&number.raw));
            problems.add(Span::of(expr), what, Self::hint());
            None
        })
    }
}

macro_rules! whole_numbers {
    ($($number:ty),*) => {$(
        impl Written for $number {
            fn expected() -> String {
                format!("a whole number from {} to {}", Self::MIN, Self::MAX)
            }

            fn example() -> String {
                "3".to_owned()
            }

            fn hint() -> String {
                format!("write {}", Self::expected())
            }

            fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
                whole_number(expr)
                    .and_then(|value| value.try_into().ok())
                    .or_else(|| mismatch(expr, Self::hint(), problems))
            }
        }
    )*};
}
whole_numbers!(u8, u16, u32, u64, usize, i32, i64);

fn whole_number(expr: &Expr<'_>) -> Option<i128> {
    let Expr::Number(number) = expr else { return None };
    if !matches!(number.kind, NumberKind::Integer | NumberKind::NegativeInteger) {
        return None;
    }
    let whole = parse_int_raw(&number.raw).ok()?;
    let size = i128::try_from(whole.magnitude).ok()?;
    Some(if whole.negative { -size } else { size })
}

/// A wrapper that the file does not show.
macro_rules! wrapped {
    ($wrapper:ident, |$value:ident, $expr:ident| $wrapped:expr) => {
        impl<T: Written> Written for $wrapper<T> {
            fn expected() -> String {
                T::expected()
            }

            fn example() -> String {
                T::example()
            }

            fn hint() -> String {
                T::hint()
            }

            fn read($expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
                let $value = T::read($expr, problems)?;
                Some($wrapped)
            }
        }
    };
}
wrapped!(At, |value, expr| At { value, span: Span::of(expr) });
wrapped!(Box, |value, expr| Box::new(value));

/// `None`, `Some(value)`, or the value by itself.
impl<T: Written> Written for Option<T> {
    fn expected() -> String {
        format!("{} or `None`", T::expected())
    }

    fn example() -> String {
        T::example()
    }

    fn hint() -> String {
        T::hint()
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        match expr {
            Expr::Option(option) => match &option.value {
                Some(value) => T::read(&value.expr, problems).map(Some),
                None => Some(None),
            },
            _ => T::read(expr, problems).map(Some),
        }
    }
}

impl<T: Written> Written for Vec<T> {
    fn expected() -> String {
        "a list".to_owned()
    }

    fn example() -> String {
        format!("[{}]", T::example())
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        let Expr::Seq(list) = expr else {
            return mismatch(expr, Self::hint(), problems);
        };
        // Every item is read before any is missed, so that each tells its own problems.
        let items: Vec<_> = list.items.iter().map(|item| T::read(&item.expr, problems)).collect();
        let spoiled = problems.is_spoiled(Span::of(expr));
        items.into_iter().collect::<Option<_>>().filter(|_| !spoiled)
    }
}

/// Values by a text each, in the file's order.
#[derive(Clone, Debug)]
pub struct Table<T>(pub Vec<(At<String>, T)>);

impl<T> Default for Table<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T: Written> Written for Table<T> {
    fn expected() -> String {
        "a map".to_owned()
    }

    fn example() -> String {
        format!("{{\"some text\": {}}}", T::example())
    }

    fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
        let Expr::Map(map) = expr else {
            return mismatch(expr, Self::hint(), problems);
        };
        let entries: Vec<_> = map
            .entries
            .iter()
            .map(|entry| {
                let (key, value) = (At::read(&entry.key, problems), T::read(&entry.value, problems));
                Some((key?, value?))
            })
            .collect();
        let spoiled = problems.is_spoiled(Span::of(expr));
        entries.into_iter().collect::<Option<_>>().filter(|_| !spoiled).map(Self)
    }
}

macro_rules! tuple {
    ($count:literal: $($part:ident)+) => {
        impl<$($part: Written),+> Written for ($($part,)+) {
            fn expected() -> String {
                format!("{} in brackets", count($count))
            }

            fn example() -> String {
                format!("({})", [$($part::example()),+].join(", "))
            }

            fn read(expr: &Expr<'_>, problems: &mut Problems) -> Option<Self> {
                let Expr::Tuple(tuple) = expr else {
                    return mismatch(expr, Self::hint(), problems);
                };
                if tuple.elements.len() != $count || problems.is_spoiled(Span::of(expr)) {
                    return mismatch(expr, Self::hint(), problems);
                }
                let mut elements = tuple.elements.iter();
                let parts = ($(elements.next().and_then(|part| $part::read(&part.expr, problems)),)+);
                #[expect(non_snake_case, reason = "the parts go by the names of their types")]
                let ($($part,)+) = parts;
                Some(($($part?,)+))
            }
        }
    };
}
tuple!(2: A B);
tuple!(3: A B C);
