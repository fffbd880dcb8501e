//! Word to the windows, whenever something changed. A window hears it by a WebSocket (RFC 6455): of streams of server-sent events a
//! browser keeps no more than six to one server, in all its windows together, and the seventh quilt would wait for ever. A program
//! without a browser may take the same words as server-sent events.

use super::app::{Opened, Pulse};
use axum::extract::ws::rejection::WebSocketUpgradeRejection;
use axum::extract::ws::{Message, WebSocket, WebSocketUpgrade};
use axum::response::sse::{Event, KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use futures_util::{Stream, StreamExt};
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

/// How the one who asks wants to hear.
pub(super) type Ear = Result<WebSocketUpgrade, WebSocketUpgradeRejection>;

/// How often a window is asked whether it still hears.
pub(super) const STILL_THERE: Duration = Duration::from_secs(15);

/// The words of a quilt, beginning with how it is now.
pub(super) fn of_quilt(quilt: &Arc<Opened>) -> impl Stream<Item = String> + Send + use<> {
    let mut bell = quilt.listen();
    bell.mark_changed();
    futures_util::stream::unfold(bell, |mut bell| async move {
        bell.changed().await.ok()?;
        let Pulse {
            revision,
            worked,
            whole,
        } = bell.borrow_and_update().clone();
        let told = serde_json::json!({ "revision": revision, "worked": worked, "whole": whole });
        Some((told.to_string(), bell))
    })
}

/// Tells the words as they come, as events of this name to those who do not hear by a WebSocket.
pub(super) fn tell(ear: Ear, name: &'static str, words: impl Stream<Item = String> + Send + 'static) -> Response {
    match ear {
        Ok(upgrade) => upgrade.on_upgrade(move |socket| speak(socket, words)),
        Err(_) => Sse::new(words.map(move |told| Ok::<Event, Infallible>(Event::default().event(name).data(told))))
            .keep_alive(KeepAlive::new().interval(STILL_THERE))
            .into_response(),
    }
}

/// Speaks until the window is closed or there is nothing more to say.
async fn speak(mut socket: WebSocket, words: impl Stream<Item = String>) {
    let mut words = std::pin::pin!(words);
    let mut still_there = tokio::time::interval(STILL_THERE);
    loop {
        let said = tokio::select! {
            told = words.next() => match told {
                Some(told) => socket.send(Message::text(told)).await.is_ok(),
                None => false,
            },
            _ = still_there.tick() => socket.send(Message::Ping(Vec::new().into())).await.is_ok(),
            // Windows only listen; what they send is an answer to a ping, or goodbye.
            heard = socket.recv() => matches!(heard, Some(Ok(Message::Pong(_) | Message::Ping(_)))),
        };
        if !said {
            return;
        }
    }
}
