//! Work on several threads, with the same result on any number of them.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// As many threads as the machine has; one where it does not say. How many there are changes nothing but the time.
#[must_use]
pub fn available() -> usize {
    thread::available_parallelism().map_or(1, std::num::NonZero::get)
}

/// Does the same to each of a list on so many threads; results come in the list's order.
///
/// # Errors
/// The first in that order that `work` gives.
pub fn in_parallel<T: Sync, R: Send, E: Send>(
    list: &[T],
    threads: usize,
    work: impl Fn(&T) -> Result<R, E> + Sync,
) -> Result<Vec<R>, E> {
    let threads = threads.clamp(1, list.len().max(1));
    if threads == 1 {
        return list.iter().map(work).collect();
    }
    let (work, next) = (&work, &AtomicUsize::new(0));
    thread::scope(|scope| {
        // Each takes the next one that nobody has taken: some take many times as long as others.
        let workers: Vec<_> = (0..threads)
            .map(|_| {
                scope.spawn(move || {
                    let mut done = Vec::new();
                    loop {
                        let at = next.fetch_add(1, Ordering::Relaxed);
                        let Some(one) = list.get(at) else { break done };
                        done.push((at, work(one)));
                    }
                })
            })
            .collect();
        let parts = workers
            .into_iter()
            .flat_map(|worker| worker.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic)));
        let mut done: Vec<(usize, Result<R, E>)> = parts.collect();
        done.sort_by_key(|(at, _)| *at);
        done.into_iter().map(|(_, came)| came).collect()
    })
}
