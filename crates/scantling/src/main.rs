//! The command line: reads a design file and says, plans, rehearses or writes what it means.

mod apply;
mod args;
mod check;
mod cloths;
mod compare;
mod load;
mod new;
mod open;
mod other_sizes;
mod plan;
mod print;
mod rehearse;
mod sizes;
mod trouble;
mod why;
mod wobble;
mod write;

use args::{Args, Command, OpenArgs};
use clap::Parser;
use std::process::ExitCode;
use trouble::Outcome;

/// Designs, scenes and drawings are millions of small things, made on one thread and taken down on another.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let outcome = match Args::parse().command.unwrap_or(Command::Open(OpenArgs::default())) {
        Command::New(args) => new::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Plan(args) => plan::run(&args),
        Command::Rehearse(args) => rehearse::run(&args),
        Command::Write(args) => write::run(&args),
        Command::Why(args) => why::run(&args),
        Command::Sizes(args) => other_sizes::run(&args),
        Command::Cloths(args) => cloths::run(&args),
        Command::Open(args) => open::run(&args),
    };
    let outcome = outcome.unwrap_or_else(|trouble| {
        print::complain(&trouble);
        Outcome::Unusable
    });
    ExitCode::from(outcome.code())
}
