//! A window that follows a quilt by a WebSocket: it says what is in sight of it and what it has, and is told of every change, with the
//! pages and drawings it then wants, without having to ask.

use super::answers::{Living, LivingLeaf};
use super::app::{Opened, Pulse};
use super::events::STILL_THERE;
use super::page_pattern::living_now;
use axum::extract::ws::{Message, WebSocket};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Drawings sent along with the pages, in bytes; what is more is asked for when it comes into sight.
const MOST_ALONG: usize = 150_000;

/// Fingerprints remembered of drawings a window has.
const MOST_HAD: usize = 4000;

/// What a window says.
#[derive(Deserialize)]
struct Said {
    /// The section in sight, or `*` for all.
    show: String,
    /// Fingerprints of the leaves it has.
    have: BTreeSet<String>,
}

/// What it is told.
#[derive(Serialize)]
struct Told<'a> {
    revision: &'a str,
    worked: &'a str,
    whole: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    living: Option<Living>,
}

/// A window, as far as is known here.
struct Window {
    quilt: Arc<Opened>,
    said: Option<Said>,
    /// Fingerprints of drawings that were sent along.
    had: BTreeSet<String>,
    /// Of which text it was sent pages last, and whether all were.
    sent: (String, bool),
}

/// Speaks and listens until the window is closed.
pub(super) async fn follow(mut socket: WebSocket, quilt: Arc<Opened>) {
    let mut bell = quilt.listen();
    bell.mark_changed();
    let mut window = Window {
        quilt,
        said: None,
        had: BTreeSet::new(),
        sent: (String::new(), false),
    };
    let mut still_there = tokio::time::interval(STILL_THERE);
    loop {
        let goes_on = tokio::select! {
            rung = bell.changed() => match rung {
                Ok(()) => {
                    let pulse = bell.borrow_and_update().clone();
                    let told = window.tell(&pulse);
                    socket.send(Message::text(told)).await.is_ok()
                }
                Err(_) => false,
            },
            _ = still_there.tick() => socket.send(Message::Ping(Vec::new().into())).await.is_ok(),
            heard = socket.recv() => match heard {
                Some(Ok(Message::Text(text))) => window.hears(&text),
                heard => matches!(heard, Some(Ok(Message::Pong(_) | Message::Ping(_)))),
            },
        };
        if !goes_on {
            return;
        }
    }
}

impl Window {
    /// Takes what the window says; whether it can be understood.
    fn hears(&mut self, text: &str) -> bool {
        let Ok(said) = serde_json::from_str::<Said>(text) else {
            return false;
        };
        self.quilt.looked_at(&said.show);
        self.said = Some(said);
        true
    }

    /// The words for a change, with the pages where there are new ones and it is known which are wanted.
    fn tell(&mut self, pulse: &Pulse) -> String {
        let now = (pulse.worked.clone(), pulse.whole);
        let fresh = now != self.sent && pulse.worked == pulse.revision;
        let (quilt, had) = (&self.quilt, &mut self.had);
        let living = self.said.as_mut().filter(|_| fresh).map(|said| {
            let mut living = living_now(quilt, &|print| said.have.contains(print), &said.show);
            let has = |leaf: &&LivingLeaf| leaf.markup.is_some() || said.have.contains(&leaf.print);
            let there = living.leaves.iter().filter(has);
            said.have = there.map(|leaf| leaf.print.clone()).collect();
            living.drawings = along(quilt, &living.leaves, had);
            living
        });
        if living.is_some() {
            self.sent = now;
        }
        let told = Told {
            revision: &pulse.revision,
            worked: &pulse.worked,
            whole: pulse.whole,
            living,
        };
        serde_json::to_string(&told).unwrap_or_default()
    }
}

/// The insides of the first drawings on pages that are sent, of those that the window `had` not; now it has.
pub(super) fn along(quilt: &Opened, leaves: &[LivingLeaf], had: &mut BTreeSet<String>) -> BTreeMap<String, String> {
    let mut along = BTreeMap::new();
    let Some(worked) = quilt.worked() else { return along };
    if had.len() > MOST_HAD {
        had.clear();
    }
    let mut bytes = 0;
    let markups = leaves.iter().filter_map(|leaf| leaf.markup.as_deref());
    for print in markups.flat_map(pictured) {
        if had.contains(print) || along.contains_key(print) {
            continue;
        }
        let Some(inside) = worked.drawings.get(print) else {
            continue;
        };
        bytes += inside.len();
        if bytes > MOST_ALONG {
            break;
        }
        had.insert(print.to_string());
        along.insert(print.to_string(), inside.clone());
    }
    along
}

/// The fingerprints of the drawings on a page, in order.
fn pictured(markup: &str) -> impl Iterator<Item = &str> {
    let after = markup.split("data-picture=\"").skip(1);
    after.filter_map(|rest| rest.split('"').next())
}

#[cfg(test)]
mod tests {
    use super::pictured;

    #[test]
    fn drawings_are_found_in_their_order() {
        let markup = "<p>a</p><svg data-picture=\"0b\"></svg><svg width=\"1\" data-picture=\"0a\" role=\"img\"></svg>";
        assert_eq!(pictured(markup).collect::<Vec<_>>(), ["0b", "0a"]);
        assert_eq!(pictured("<p>none</p>").count(), 0);
    }
}
