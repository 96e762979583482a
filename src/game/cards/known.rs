//! What a job's log says of something, read once after each act and not for every frame.

use std::sync::{Arc, Weak};

use bevy_egui::egui::{self, AsId, Id};
use probeworthy::job::Job;

use crate::game::bay::Bay;

/// What `read` makes of the job's log, kept under this name until something is done: with each act there is another job.
/// Nothing is known where there is no job.
pub(in crate::game) fn known<T: Default + Send + Sync + 'static>(
    ctx: &egui::Context,
    bay: &Bay,
    name: impl AsId,
    read: impl FnOnce(&Job) -> T,
) -> Arc<T> {
    let Some(job) = &bay.job else { return Arc::default() };
    let id = Id::new(("known", name));
    let of = Arc::downgrade(job);
    let kept = ctx.data(|data| data.get_temp::<(Weak<Job>, Arc<T>)>(id));
    match kept.filter(|(kept, _)| kept.ptr_eq(&of)) {
        Some((_, known)) => known,
        None => {
            let known = Arc::new(read(job));
            ctx.data_mut(|data| data.insert_temp(id, (of, Arc::clone(&known))));
            known
        }
    }
}
