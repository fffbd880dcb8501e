//! Word to the windows: a line whenever the quilt or its pages changed.

use super::app::{Opened, Pulse};
use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::Stream;
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

/// The events of a quilt, beginning with how it is now.
pub(super) fn events(quilt: &Arc<Opened>) -> Sse<impl Stream<Item = Result<Event, Infallible>> + use<>> {
    let mut bell = quilt.listen();
    bell.mark_changed();
    let stream = futures_util::stream::unfold(bell, |mut bell| async move {
        bell.changed().await.ok()?;
        let pulse = bell.borrow_and_update().clone();
        Some((Ok(event(&pulse)), bell))
    });
    Sse::new(stream).keep_alive(KeepAlive::new().interval(Duration::from_secs(15)))
}

fn event(pulse: &Pulse) -> Event {
    let told = serde_json::json!({ "revision": pulse.revision, "worked": pulse.worked });
    Event::default().event("changed").data(told.to_string())
}
