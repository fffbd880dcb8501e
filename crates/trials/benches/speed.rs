//! How long the engine takes.
fn main() {
    divan::main();
}
