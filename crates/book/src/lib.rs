//! The book: one model of the pattern's pages, set as a PDF or written as one HTML file.
//!
//! [`compose`] turns a [`Source`] (the recipe with its cutting plan, what the virtual table saw, and what is known of
//! the cloth) into a [`Book`]: sections of blocks, in which every length is still a typed number with its derivation.
//! [`Book::to_pdf`] and [`Book::to_html`] only set what is there. Free text of the designer is carried as text
//! all the way and is escaped at the last moment, once for each kind of page.

mod csv;
mod html;
mod model;
mod names;
mod numbers;
mod pages;
mod pictures;
mod plural;
mod source;
mod typeset;
mod why;
mod words;

pub use csv::cut_list_csv;
pub use html::html_look;
pub use model::{Block, Book, Edition, Paper, Photo, PhotoKind, Picture, Section, Standing, Text, Token};
pub use names::{Names, unit_name};
pub use numbers::{bought_words, cloth_length, least_words, plain_length, set_length};
pub use pages::{compose, compose_living, compose_living_section, compose_living_while, told_again};
pub use source::{ClothWords, FirstBlock, PartLine, PartWords, PhotoWords, ProofFigures, SayWords, Source, Story};
pub use typeset::{BookError, RunsOver};
pub use why::{WhyLine, why_text};
pub use words::step_sentence;
