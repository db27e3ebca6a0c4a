//! Chores of the project, in Rust: `cargo xtask <chore>`.

fn main() {}
