//! The program `quartern`.

fn main() {}
