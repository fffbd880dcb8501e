//! The workshop: the local web app. Cloth on one side, the living pattern on the other; everything is worked out here, the
//! browser only says what the hand did.

pub mod drawing;
pub mod file;
pub mod handing;
pub mod living;
pub mod pictures;
pub mod sewn;
pub mod svg;
pub mod web;

use std::io;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::Path;
use tokio::net::TcpListener;

/// Where the workshop is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Address {
    /// For the browser.
    pub url: String,
}

/// Opens the workshop of a folder on this computer, and serves until the program is ended. `ready` hears the address.
/// With port 0 a free one is taken.
///
/// # Errors
/// When the folder cannot be made or read, or the port is taken.
pub fn open(folder: &Path, port: u16, ready: impl FnOnce(&Address)) -> io::Result<()> {
    let shelf = file::Shelf::open(folder)?;
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build()?;
    runtime.block_on(async move {
        let listener = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).await?;
        let port = listener.local_addr()?.port();
        ready(&Address {
            url: format!("http://127.0.0.1:{port}/"),
        });
        let app = web::App::new(shelf);
        let early = app.clone();
        std::thread::spawn(move || early.practise());
        axum::serve(listener, web::routes(app, web::Hosts::of(port, &[]))).await
    })
}
