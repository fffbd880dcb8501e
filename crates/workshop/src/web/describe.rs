//! The interface described for programs (OpenAPI 3.1): served at `/openapi.json`, kept in `docs/openapi.json`. The list of addresses
//! here and the one in `routes` are held against each other by a test.

use super::answers::{Aimed, Changed, Living, LivingLeaf, Trouble, WishBody};
use crate::file::{Act, CellAct, Pinned, Step, Wish};
use crate::handing::{Progress, State};
use serde_json::{Value, json};
use utoipa::openapi::path::{HttpMethod, OperationBuilder, ParameterBuilder, ParameterIn, PathsBuilder};
use utoipa::openapi::request_body::RequestBodyBuilder;
use utoipa::openapi::response::ResponseBuilder;
use utoipa::openapi::schema::{ArrayBuilder, ComponentsBuilder, Object, ObjectBuilder, Schema, Type};
use utoipa::openapi::{ContentBuilder, InfoBuilder, OpenApi, OpenApiBuilder, Ref, RefOr, Required};

/// Where the description is served.
pub(super) const PLACE: &str = "/openapi.json";

const HTML: &str = "text/html; charset=utf-8";
const JSON: &str = "application/json";
const PLAIN: &str = "text/plain; charset=utf-8";
const FORM: &str = "application/x-www-form-urlencoded";

/// What an address does.
struct Deed {
    method: HttpMethod,
    path: &'static str,
    summary: &'static str,
    query: Vec<Asked>,
    body: Option<Body>,
    answers: Vec<(u16, &'static str, Answer)>,
}

/// A value of the query.
struct Asked {
    name: &'static str,
    about: &'static str,
    schema: Object,
    example: Value,
    must: bool,
}

/// What is sent.
enum Body {
    /// JSON of this name.
    Json(&'static str, Vec<(&'static str, Value)>),
    /// A form's fields: name, what it is, whether it may come more than once.
    Form(Vec<(&'static str, &'static str, bool)>, Value),
    /// A file.
    Bytes,
    /// JSON as docs/http.md tells it, such as this.
    Loose(Value),
}

/// What is answered.
#[derive(Clone, Copy)]
enum Answer {
    /// A page or part of one.
    Page,
    /// JSON of this name.
    Json(&'static str),
    /// A page, or JSON of this name where that is asked for.
    PageOrJson(&'static str),
    /// A file of this kind.
    File(&'static str),
    /// A file of one of these kinds.
    Files(&'static [&'static str]),
    /// Words only.
    Words,
    /// Another address.
    Elsewhere,
}

/// The description.
pub fn description() -> OpenApi {
    // Of one path with two methods the later would else replace the earlier.
    let mut paths = PathsBuilder::new().build();
    for deed in deeds() {
        paths.add_path_operation(deed.path, vec![deed.method.clone()], operation(&deed));
    }
    OpenApiBuilder::new()
        .info(
            InfoBuilder::new()
                .title("The workshop of Scantling")
                .version(env!("CARGO_PKG_VERSION"))
                .description(Some(
                    "One person's workshop on one computer. Pages are for people; wishes, the living pages and orders are also for programs. \
                     See docs/http.md for what the words mean.",
                ))
                .build(),
        )
        .paths(paths)
        .components(Some(
            ComponentsBuilder::new()
                .schema_from::<WishBody>()
                .schema_from::<Wish>()
                .schema_from::<Act>()
                .schema_from::<CellAct>()
                .schema_from::<Pinned>()
                .schema_from::<Step>()
                .schema_from::<Changed>()
                .schema_from::<Trouble>()
                .schema_from::<Aimed>()
                .schema_from::<Living>()
                .schema_from::<LivingLeaf>()
                .schema_from::<Progress>()
                .schema_from::<State>()
                .build(),
        ))
        .build()
}

/// The description as it is kept in the documents.
pub fn description_text() -> String {
    let mut text = serde_json::to_string_pretty(&description()).unwrap_or_default();
    text.push('\n');
    text
}

fn operation(deed: &Deed) -> utoipa::openapi::path::Operation {
    let mut operation = OperationBuilder::new().summary(Some(deed.summary));
    for name in deed
        .path
        .split('/')
        .filter_map(|step| step.strip_prefix('{')?.strip_suffix('}'))
    {
        let (about, schema, example) = step_of(deed, name);
        operation = operation.parameter(
            ParameterBuilder::new()
                .name(name)
                .parameter_in(ParameterIn::Path)
                .required(Required::True)
                .description(Some(about))
                .schema(Some(schema))
                .example(Some(example)),
        );
    }
    for asked in &deed.query {
        operation = operation.parameter(
            ParameterBuilder::new()
                .name(asked.name)
                .parameter_in(ParameterIn::Query)
                .required(if asked.must { Required::True } else { Required::False })
                .description(Some(asked.about))
                .schema(Some(asked.schema.clone()))
                .example(Some(asked.example.clone())),
        );
    }
    if let Some(body) = &deed.body {
        operation = operation.request_body(Some(sent(body)));
    }
    for (status, about, answer) in &deed.answers {
        let response = ResponseBuilder::new().description(*about);
        let response = match answer {
            Answer::Page => response.content(HTML, ContentBuilder::new().build()),
            Answer::Words => response.content(PLAIN, ContentBuilder::new().build()),
            Answer::File(kind) => response.content(*kind, ContentBuilder::new().build()),
            Answer::Json(name) => response.content(JSON, typed(name)),
            Answer::PageOrJson(name) => response
                .content(HTML, ContentBuilder::new().build())
                .content(JSON, typed(name)),
            Answer::Files(kinds) => kinds.iter().fold(response, |response, kind| {
                response.content(*kind, ContentBuilder::new().build())
            }),
            Answer::Elsewhere => response,
        };
        operation = operation.response(status.to_string(), response.build());
    }
    operation.build()
}

fn typed(name: &str) -> utoipa::openapi::Content {
    ContentBuilder::new().schema(Some(Ref::from_schema_name(name))).build()
}

fn sent(body: &Body) -> utoipa::openapi::request_body::RequestBody {
    let request = RequestBodyBuilder::new().required(Some(Required::True));
    match body {
        Body::Json(name, examples) => {
            let examples = examples.iter().map(|(name, value)| {
                (
                    *name,
                    utoipa::openapi::example::ExampleBuilder::new()
                        .value(Some(value.clone()))
                        .build(),
                )
            });
            let content = ContentBuilder::new()
                .schema(Some(Ref::from_schema_name(*name)))
                .examples_from_iter(examples);
            request.content(JSON, content.build()).build()
        }
        Body::Form(fields, example) => {
            let mut schema = ObjectBuilder::new();
            for (name, about, many) in fields {
                let text = ObjectBuilder::new().schema_type(Type::String).description(Some(*about));
                schema = if *many {
                    schema.property(*name, ArrayBuilder::new().items(text))
                } else {
                    schema.property(*name, text)
                };
            }
            let content = ContentBuilder::new()
                .schema(Some(schema))
                .example(Some(example.clone()));
            request.content(FORM, content.build()).build()
        }
        Body::Loose(example) => {
            let content = ContentBuilder::new().example(Some(example.clone()));
            request.content(JSON, content.build()).build()
        }
        Body::Bytes => {
            let bytes: RefOr<Schema> = ObjectBuilder::new()
                .schema_type(Type::String)
                .content_encoding("binary")
                .into();
            request
                .content(
                    "application/octet-stream",
                    ContentBuilder::new().schema(Some(bytes)).build(),
                )
                .build()
        }
    }
}

/// A step of a path: what it is and how it looks.
fn step_of(deed: &Deed, name: &str) -> (&'static str, ObjectBuilder, Value) {
    let text = || ObjectBuilder::new().schema_type(Type::String);
    let named = || text().pattern(Some("^[a-z0-9][a-z0-9-]{0,59}$"));
    let one_of = |words: &[&str]| text().enum_values(Some(words.iter().map(|w| (*w).to_string())));
    match name {
        "quilt" => ("The quilt's name.", named(), json!("harbour-windows")),
        "block" => ("A block of the file.", named(), json!("half")),
        "place" => (
            "A place of the workshop.",
            one_of(&["draw", "quilt", "cloth", "pattern"]),
            json!("quilt"),
        ),
        "what" => (
            "What is done on the shelf.",
            one_of(&["new", "copy", "rename", "bin", "take-back", "empty-bin"]),
            json!("new"),
        ),
        "id" => (
            "The number's derivation.",
            ObjectBuilder::new()
                .schema_type(Type::Integer)
                .minimum(Some(0))
                .maximum(Some(u32::MAX)),
            json!(0),
        ),
        "number" => (
            "Which making, from 0.",
            ObjectBuilder::new()
                .schema_type(Type::Integer)
                .minimum(Some(0))
                .maximum(Some(u32::MAX)),
            json!(0),
        ),
        "file" if deed.path.contains("/picture/") => ("A picture beside the files.", text(), json!("night.jpg")),
        "file" => {
            let files: Vec<&str> = crate::handing::Export::ALL.iter().map(|export| export.file()).collect();
            ("The file's name.", one_of(&files), json!("cut-list.csv"))
        }
        "edition" => (
            "The fingerprint of the program's files, as pages name it.",
            text(),
            json!("0123456789abcdef"),
        ),
        _ if deed.path.starts_with("/assets") => ("A file of the program's own.", text(), json!("wish.js")),
        _ => ("A name.", text(), json!("x")),
    }
}

fn asked(name: &'static str, about: &'static str, kind: Type, example: Value) -> Asked {
    Asked {
        name,
        about,
        schema: ObjectBuilder::new().schema_type(kind).build(),
        example,
        must: false,
    }
}

fn must(mut asked: Asked) -> Asked {
    asked.must = true;
    asked
}

fn get(path: &'static str, summary: &'static str, answers: Vec<(u16, &'static str, Answer)>) -> Deed {
    Deed {
        method: HttpMethod::Get,
        path,
        summary,
        query: Vec::new(),
        body: None,
        answers: with_common(path, answers),
    }
}

fn post(
    path: &'static str,
    summary: &'static str,
    body: Option<Body>,
    answers: Vec<(u16, &'static str, Answer)>,
) -> Deed {
    Deed {
        method: HttpMethod::Post,
        body,
        ..get(path, summary, answers)
    }
}

/// What any address may answer: a path or query that cannot be read, a stranger at the door, nothing of that name.
fn with_common(path: &str, mut answers: Vec<(u16, &'static str, Answer)>) -> Vec<(u16, &'static str, Answer)> {
    let has = |answers: &[(u16, &'static str, Answer)], status| answers.iter().any(|(s, ..)| *s == status);
    for (status, about, answer) in [
        (
            400,
            "The address or what was sent cannot be read.",
            Answer::Files(&[PLAIN, HTML]),
        ),
        (
            403,
            "The request does not come from the workshop's own pages.",
            Answer::Words,
        ),
    ] {
        if !has(&answers, status) {
            answers.push((status, about, answer));
        }
    }
    if path.contains('{') && !has(&answers, 404) {
        answers.push((404, "There is nothing of that name.", Answer::Page));
    }
    answers
}

fn wishes() -> Vec<(&'static str, Value)> {
    let wish = |wish: Value| json!({ "base": "0123456789abcdef", "wish": wish });
    vec![
        (
            "a value is set",
            wish(json!({ "do": "set", "at": ["quilt", "title"], "to": "Harbour" })),
        ),
        (
            "a value is taken away",
            wish(json!({ "do": "set", "at": ["quilt", "note"], "to": null })),
        ),
        (
            "a border is added",
            wish(json!({ "do": "add", "list": "border", "with": { "width": "4 in", "fabric": "night" } })),
        ),
        (
            "a border is taken away",
            wish(json!({ "do": "take", "list": "border", "index": 0 })),
        ),
        (
            "a fabric moves",
            wish(json!({ "do": "move", "list": "fabric", "from": 0, "to": 1 })),
        ),
        (
            "a fabric is renamed",
            wish(json!({ "do": "rename", "list": "fabric", "from": "night", "to": "midnight" })),
        ),
        (
            "a block is cut",
            wish(
                json!({ "do": "draw", "block": "half", "act": "divide", "from": [0, 0], "to": [3, 3], "repeat": "once" }),
            ),
        ),
        (
            "a patch is dressed",
            wish(json!({ "do": "draw", "block": "half", "act": "dress", "at": [1, 1], "fabric": "foam" })),
        ),
        (
            "a block turns",
            wish(json!({ "do": "draw", "block": "half", "act": "turn", "at": null })),
        ),
        (
            "a cell is filled",
            wish(json!({ "do": "cells", "act": "put", "row": 0, "column": 0, "cell": "window@90" })),
        ),
        (
            "the layout grows",
            wish(json!({ "do": "cells", "act": "size", "rows": 3, "columns": 3 })),
        ),
    ]
}

fn deeds() -> Vec<Deed> {
    let changed = || {
        vec![
            (200, "It is done and saved.", Answer::Json("Changed")),
            (404, "There is no such quilt.", Answer::Page),
            (409, "The file has changed since.", Answer::Json("Trouble")),
            (410, "The file is gone.", Answer::Json("Trouble")),
            (422, "It cannot be done.", Answer::Json("Trouble")),
            (507, "It cannot be saved.", Answer::Json("Trouble")),
        ]
    };
    let wished = || {
        let mut answers = changed();
        answers.extend([
            (400, "This is no wish.", Answer::Json("Trouble")),
            (413, "This is too much at once.", Answer::Json("Trouble")),
            (415, "This is not sent as JSON.", Answer::Json("Trouble")),
        ]);
        answers
    };
    let page = || vec![(200, "The page.", Answer::Page)];
    let drawing =
        json!({ "svg": "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 2 2'/>", "name": "drawn", "width": 12.0 });
    let unread = |mut answers: Vec<(u16, &'static str, Answer)>| {
        answers.extend([
            (413, "This is too much at once.", Answer::Files(&[JSON, PLAIN])),
            (415, "This is not sent as it should be.", Answer::Words),
            (422, "It cannot be done.", Answer::Files(&[JSON, PLAIN])),
            (507, "It cannot be saved.", Answer::Json("Trouble")),
        ]);
        answers
    };
    let mut list = vec![
        get("/", "The shelf", page()),
        get(PLACE, "This description", vec![(200, "OpenAPI.", Answer::File(JSON))]),
        post(
            "/shelf/{what}",
            "A quilt is begun, copied, renamed, put into the bin or taken back; the bin is emptied",
            Some(Body::Form(
                vec![
                    ("name", "The quilt.", false),
                    ("to", "Its new name.", false),
                    ("from", "An example, or empty.", false),
                    ("metric", "`yes` for centimetres.", false),
                ],
                json!({ "to": "sea-wall", "from": "", "metric": "" }),
            )),
            vec![
                (303, "Done; the page to look at next.", Answer::Elsewhere),
                (409, "The name is taken.", Answer::Page),
                (415, "This is no form.", Answer::Page),
                (422, "This is no name, or no such form.", Answer::Page),
            ],
        ),
        get(
            "/assets/{edition}/{name}",
            "A file of the program's own",
            vec![(
                200,
                "A script or a style sheet.",
                Answer::Files(&["text/javascript; charset=utf-8", "text/css; charset=utf-8"]),
            )],
        ),
        get(
            "/miniatures/{quilt}",
            "The quilt, small",
            vec![(200, "SVG.", Answer::File("image/svg+xml"))],
        ),
        get(
            "/quilts/{quilt}",
            "The quilt's first place",
            vec![(303, "Its address.", Answer::Elsewhere)],
        ),
        get(
            "/quilts/{quilt}/{place}",
            "A place of the workshop",
            vec![
                (200, "The page.", Answer::Page),
                (303, "The place of its first block.", Answer::Elsewhere),
            ],
        ),
        get("/quilts/{quilt}/draw/{block}", "A block, to be drawn", page()),
        get(
            "/quilts/{quilt}/aim/{block}",
            "Where the hand's aim is held",
            vec![
                (200, "The place.", Answer::Json("Aimed")),
                (422, "There is nothing to aim at.", Answer::Json("Trouble")),
            ],
        ),
        post(
            "/quilts/{quilt}/wish",
            "The file is changed and saved",
            Some(Body::Json("WishBody", wishes())),
            wished(),
        ),
        post("/quilts/{quilt}/undo", "One state back", None, changed()),
        post("/quilts/{quilt}/redo", "One state on", None, changed()),
        get(
            "/quilts/{quilt}/living",
            "The living pages",
            vec![(200, "Those the window has not.", Answer::Json("Living"))],
        ),
        get(
            "/quilts/{quilt}/events",
            "What changes, as server-sent events `changed` without an end; to a WebSocket the same as messages",
            vec![(200, "The stream.", Answer::File("text/event-stream"))],
        ),
        get(
            "/quilts/{quilt}/why/{id}",
            "The derivation of a number of the pages",
            page(),
        ),
        get(
            "/quilts/{quilt}/out/{file}",
            "A file of the pattern",
            vec![
                (
                    200,
                    "The file.",
                    Answer::Files(&["application/pdf", HTML, "text/csv; charset=utf-8", JSON]),
                ),
                (409, "There is no pattern to hand out yet.", Answer::Page),
            ],
        ),
        get(
            "/quilts/{quilt}/words",
            "The designer's words at a place of the pattern",
            page(),
        ),
        get(
            "/quilts/{quilt}/photo/{block}",
            "The photograph of a block",
            vec![
                (200, "The picture.", Answer::Files(&["image/jpeg", "image/png"])),
                (404, "There is none.", Answer::PageOrJson("Trouble")),
                (413, "It is too large to be shown.", Answer::Json("Trouble")),
                (422, "It is no picture.", Answer::Json("Trouble")),
                (507, "It cannot be read.", Answer::Json("Trouble")),
            ],
        ),
        post(
            "/quilts/{quilt}/photo/{block}",
            "A photograph is kept beside the file, and the block names it",
            Some(Body::Bytes),
            {
                let mut answers = changed();
                answers.push((413, "The picture is too large.", Answer::Json("Trouble")));
                answers
            },
        ),
        get("/drawing", "A new quilt from a drawing in SVG", page()),
        post(
            "/drawing/look",
            "What would become of a drawing",
            Some(Body::Loose(drawing.clone())),
            unread(vec![(200, "What was read, and what is said of it.", Answer::Page)]),
        ),
        post(
            "/drawing/begin",
            "A quilt is begun with it",
            Some(Body::Loose(drawing)),
            unread(vec![(200, "The address of its drawing.", Answer::File(JSON))]),
        ),
        get(
            "/quilts/{quilt}/picture/{file}",
            "A picture beside the files",
            vec![(200, "The picture.", Answer::Files(&["image/jpeg", "image/png"]))],
        ),
        post(
            "/quilts/{quilt}/pictures",
            "A picture is kept beside the files",
            Some(Body::Bytes),
            unread(vec![(200, "Its name and its pixels.", Answer::File(JSON))]),
        ),
        post(
            "/quilts/{quilt}/colours",
            "The main colours of a photograph, which is not kept",
            Some(Body::Bytes),
            unread(vec![(200, "Colours with words and shares.", Answer::File(JSON))]),
        ),
        post(
            "/quilts/{quilt}/tracing/{block}",
            "A picture is laid beneath a block, or taken away",
            Some(Body::Loose(Value::Null)),
            unread(vec![(200, "Done.", Answer::File(JSON))]),
        ),
        get(
            "/quilts/{quilt}/drawings",
            "The insides of drawings on the pages",
            vec![(200, "By their fingerprints.", Answer::File(JSON))],
        ),
        get(
            "/quilts/{quilt}/sewn/{number}",
            "A making to be watched",
            vec![(200, "Its film.", Answer::File(JSON))],
        ),
        get("/quilts/{quilt}/strip/{number}", "All its steps, to be printed", page()),
        get("/quilts/{quilt}/hand-out", "Hand out", page()),
        post(
            "/quilts/{quilt}/hand-out",
            "An order is begun",
            Some(Body::Form(
                vec![
                    ("size", "A size's name.", true),
                    ("colorway", "A colourway's name; empty for the cloth as listed.", true),
                    ("measure", "`inch` or `metric`.", true),
                    ("part", "`whole`, or a part's number from 1.", true),
                    ("hand", "`right` or `left`.", true),
                    ("print", "`usual` or `large`.", true),
                    ("file", "A file's name.", true),
                    ("to", "`zip` or `folder`.", false),
                ],
                json!({ "measure": ["inch", "metric"], "file": ["cut-list.csv"], "to": "zip" }),
            )),
            vec![
                (
                    202,
                    "Begun (asked with `Accept: application/json`).",
                    Answer::Json("Progress"),
                ),
                (303, "Begun; the page that says how far it is.", Answer::Elsewhere),
                (
                    409,
                    "Another is in hand, or the file cannot be read.",
                    Answer::PageOrJson("Trouble"),
                ),
                (415, "This is no form.", Answer::Page),
                (422, "There is no such choice.", Answer::PageOrJson("Trouble")),
            ],
        ),
        post(
            "/quilts/{quilt}/hand-out/stop",
            "The order in hand is stopped at its next file",
            None,
            vec![
                (
                    202,
                    "How far it is (asked with `Accept: application/json`).",
                    Answer::Json("Progress"),
                ),
                (303, "The page that says how far it is.", Answer::Elsewhere),
            ],
        ),
        get(
            "/quilts/{quilt}/hand-out/progress",
            "How the order goes on, as server-sent events `progress` without an end; to a WebSocket the same as messages",
            vec![(200, "The stream.", Answer::File("text/event-stream"))],
        ),
        get(
            "/quilts/{quilt}/hand-out/zip",
            "The zip that is ready",
            vec![
                (200, "The zip.", Answer::File("application/zip")),
                (409, "None is ready.", Answer::Page),
            ],
        ),
    ];
    for deed in &mut list {
        let kept = matches!(deed.method, HttpMethod::Post);
        deed.query = match deed.path {
            "/quilts/{quilt}/{place}" | "/quilts/{quilt}/draw/{block}" => {
                vec![asked(
                    "part",
                    "`cloth` for the side with the cloth alone.",
                    Type::String,
                    json!("cloth"),
                )]
            }
            "/quilts/{quilt}/aim/{block}" => vec![
                must(asked(
                    "x",
                    "Inches from the block's left side.",
                    Type::Number,
                    json!(1.5),
                )),
                must(asked("y", "Inches from its top.", Type::Number, json!(1.5))),
                must(asked(
                    "reach",
                    "How far it is held from, inches.",
                    Type::Number,
                    json!(0.25),
                )),
                asked("from_x", "Where the line begins.", Type::Number, json!(0)),
                asked("from_y", "Where the line begins.", Type::Number, json!(0)),
            ],
            "/quilts/{quilt}/living" => vec![asked(
                "have",
                "Fingerprints of the pages the window has, with commas.",
                Type::String,
                json!(""),
            )],
            "/quilts/{quilt}/out/{file}" => vec![
                asked("left", "`yes` for the left hand.", Type::String, json!("yes")),
                asked("large", "`yes` for large print.", Type::String, json!("yes")),
            ],
            "/quilts/{quilt}/drawings" => vec![asked("want", "Fingerprints, with commas.", Type::String, json!(""))],
            "/quilts/{quilt}/pictures" => vec![asked("of", "A word for its name.", Type::String, json!("night"))],
            "/quilts/{quilt}/words" => vec![
                asked(
                    "at",
                    "A block's or a unit's name; empty for the whole quilt.",
                    Type::String,
                    json!("half/A"),
                ),
                asked(
                    "steps",
                    "Steps of the unit, from 1, with commas.",
                    Type::String,
                    json!("1,2"),
                ),
            ],
            "/quilts/{quilt}/photo/{block}" if kept => {
                vec![asked(
                    "base",
                    "Fingerprint of the file's text.",
                    Type::String,
                    json!("0123456789abcdef"),
                )]
            }
            _ => Vec::new(),
        };
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn the_documents_hold_the_description_as_it_is() {
        let place = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/openapi.json");
        // As with snapshots: written anew only when that is asked for.
        if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
            std::fs::write(&place, description_text()).unwrap();
        }
        let kept = std::fs::read_to_string(&place).unwrap();
        assert!(
            kept == description_text(),
            "docs/openapi.json is not current: run this test with INSTA_UPDATE=always"
        );
    }

    #[test]
    fn every_address_is_described_and_none_that_is_not_there() {
        // The routes as they are written down.
        let source = include_str!("routes.rs");
        let source = source.split("fn lost").next().unwrap();
        let mut there: BTreeSet<(String, &str)> = BTreeSet::new();
        for route in source.split(".route(").skip(1) {
            let path = route.split('"').nth(1).unwrap().to_string();
            for (word, method) in [("get(", "get"), ("post(", "post")] {
                if route.split(".fallback").next().unwrap().contains(word) {
                    there.insert((path.clone(), method));
                }
            }
        }
        let told: Value = serde_json::to_value(description()).unwrap();
        let mut described: BTreeSet<(String, &str)> = BTreeSet::new();
        for (path, deeds) in told["paths"].as_object().unwrap() {
            for method in ["get", "post", "put", "delete", "patch"] {
                if deeds.get(method).is_some() {
                    described.insert((path.clone(), method));
                }
            }
        }
        assert_eq!(there, described);
        assert!(there.len() > 20);
    }

    #[test]
    fn every_name_that_is_pointed_to_is_there() {
        let told: Value = serde_json::to_value(description()).unwrap();
        let text = told.to_string();
        let known = told["components"]["schemas"].as_object().unwrap();
        let mut count = 0;
        for place in text.split("\"#/components/schemas/").skip(1) {
            let name = place.split('"').next().unwrap();
            assert!(known.contains_key(name), "{name}");
            count += 1;
        }
        assert!(count > 10);
        // The examples are wishes.
        for (name, wish) in wishes() {
            serde_json::from_value::<WishBody>(wish).unwrap_or_else(|why| panic!("{name}: {why}"));
        }
    }
}
