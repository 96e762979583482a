//! Long lists that are used again: each operating point, factor and transient takes some and leaves them behind, and to ask
//! the system's allocator for blocks of many kilobytes each time takes as long as to work them out.

use std::cell::RefCell;
use std::thread::LocalKey;

use super::element::Law;
use super::point::Tangent;

/// Lists are kept by size, as powers of two; longer ones than the last are not.
const SIZES: usize = 14;
/// So many of each size at most.
const MOST_KEPT: usize = 24;

/// Lists that nobody uses: empty, with room, by size.
pub(crate) type Spares<T> = RefCell<[Vec<Vec<T>>; SIZES]>;

/// What long lists are of.
pub(crate) trait Spare: Sized + 'static {
    /// The lists of this thread that nobody uses.
    fn spares() -> &'static LocalKey<Spares<Self>>;
}

macro_rules! spares {
    ($($kind:ty),*) => {$(
        impl Spare for $kind {
            fn spares() -> &'static LocalKey<Spares<Self>> {
                thread_local! {
                    static SPARES: Spares<$kind> = RefCell::default();
                }
                &SPARES
            }
        }
    )*};
}

spares!(f64, Law, Tangent);

/// An empty list with room for so many.
pub(crate) fn list<T: Spare>(room: usize) -> Vec<T> {
    let size = room.max(1).next_power_of_two();
    let place = size.trailing_zeros() as usize;
    let spare = T::spares().try_with(|spares| spares.borrow_mut().get_mut(place).and_then(Vec::pop));
    spare.ok().flatten().unwrap_or_else(|| Vec::with_capacity(size))
}

/// A list of these.
pub(crate) fn list_of<T: Spare + Clone>(values: &[T]) -> Vec<T> {
    let mut list = list(values.len());
    list.extend_from_slice(values);
    list
}

/// Takes a list back.
pub(crate) fn done<T: Spare>(mut list: Vec<T>) {
    // A list with less room than its place has would have to grow there.
    let Some(place) = list.capacity().checked_ilog2() else { return };
    list.clear();
    // Once the thread ends, it goes the usual way.
    let _ = T::spares().try_with(|spares| {
        if let Some(kept) = spares.borrow_mut().get_mut(place as usize).filter(|kept| kept.len() < MOST_KEPT)
        {
            kept.push(list);
        }
    });
}
