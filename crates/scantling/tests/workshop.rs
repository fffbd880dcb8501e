//! The workshop as the program opens it: says its address, answers there, begins a new folder with the examples.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};

struct Open(Child);

impl Drop for Open {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Asks for a page and gives what came back, head and all.
fn page(port: &str, path: &str) -> String {
    let mut stream = TcpStream::connect(format!("127.0.0.1:{port}")).expect("the workshop answers");
    write!(
        stream,
        "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n"
    )
    .expect("the workshop answers");
    let mut text = String::new();
    stream.read_to_string(&mut text).expect("the workshop answers");
    text
}

#[test]
fn with_nothing_said_it_opens_the_shelf_of_the_home_folder() {
    let home = std::env::temp_dir().join(format!("workshop-home-{}", std::process::id()));
    std::fs::create_dir_all(&home).unwrap();
    // No browser can be found where no program can be.
    let child = Command::new(env!("CARGO_BIN_EXE_scantling"))
        .env("HOME", &home)
        .env("PATH", "")
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut open = Open(child);
    let mut said = String::new();
    BufReader::new(open.0.stdout.take().unwrap())
        .read_line(&mut said)
        .unwrap();
    let port = said
        .trim()
        .trim_end_matches('/')
        .rsplit(':')
        .next()
        .unwrap()
        .to_string();
    let shelf = page(&port, "/");
    assert!(shelf.starts_with("HTTP/1.1 200"), "{shelf}");
    assert!(shelf.contains("Lantern Harbour"));
    assert!(home.join("Scantling/lantern-harbour.quilt.toml").exists());
    assert!(page(&port, "/nowhere").starts_with("HTTP/1.1 404"));
    drop(open);
    std::fs::remove_dir_all(&home).unwrap();
}
