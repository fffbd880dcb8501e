//! Which address does what.

use super::answers::{Aimed, Changed, Trouble, WishBody};
use super::app::{App, Opened};
use super::{
    assets, describe, events, guard, handing_out, page_cloth, page_draw, page_pattern, page_quilt, page_sewn,
    page_shelf, page_svg, page_words, photos, pictures, window,
};
use crate::drawing;
use crate::file::{MOST_PHOTO_BYTES, PhotoFault, Refused, ShelfError, Wish, is_name};
use axum::body::Bytes;
use axum::extract::rejection::{BytesRejection, FormRejection, JsonRejection};
use axum::extract::{DefaultBodyLimit, Form, Path, Query, State};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Json, Router, middleware};
use maud::Markup;
use serde::Deserialize;
use std::sync::Arc;

/// Most bytes of a request's body: a whole design file in a wish, with room.
const MOST_BODY: usize = 8 * 1024 * 1024;

/// The names this server goes by, ports included.
#[derive(Clone, Debug)]
pub struct Hosts(Vec<String>);

impl Hosts {
    /// Those of a port on this computer, and more when asked for.
    pub fn of(port: u16, more: &[String]) -> Hosts {
        let mut all: Vec<String> = ["127.0.0.1", "localhost", "[::1]"]
            .iter()
            .map(|name| format!("{name}:{port}"))
            .collect();
        all.extend(more.iter().cloned());
        Hosts(all)
    }

    pub(super) fn know(&self, host: &str) -> bool {
        self.0.iter().any(|known| known.eq_ignore_ascii_case(host))
    }
}

/// All addresses.
pub fn routes(app: App, hosts: Hosts) -> Router {
    Router::new()
        .route("/", get(shelf))
        .route("/openapi.json", get(described))
        .route("/shelf/{what}", post(change_shelf))
        .route("/assets/{edition}/{name}", get(asset))
        .route("/drawing", get(page_svg::page))
        .route("/drawing/look", post(page_svg::look).layer(large()))
        .route("/drawing/begin", post(page_svg::begin).layer(large()))
        .route(
            "/quilts/{quilt}",
            get(|Path(name): Path<String>| async move {
                // A name that is none could be an address elsewhere, or none that can be sent.
                match is_name(&name) {
                    true => Redirect::to(&format!("/quilts/{name}/quilt")).into_response(),
                    false => of_shelf(&ShelfError::Missing),
                }
            }),
        )
        .route("/quilts/{quilt}/{place}", get(place))
        .route("/quilts/{quilt}/draw/{block}", get(draw))
        .route("/quilts/{quilt}/aim/{block}", get(aim))
        .route("/quilts/{quilt}/wish", post(wish))
        .route("/quilts/{quilt}/picture/{file}", get(pictures::show))
        .route("/quilts/{quilt}/pictures", post(pictures::keep).layer(large()))
        .route("/quilts/{quilt}/colours", post(pictures::colours).layer(large()))
        .route("/quilts/{quilt}/tracing/{block}", post(pictures::trace))
        .route("/quilts/{quilt}/undo", post(undo))
        .route("/quilts/{quilt}/redo", post(redo))
        .route("/quilts/{quilt}/living", get(living))
        .route("/quilts/{quilt}/drawings", get(drawings))
        .route("/quilts/{quilt}/sewn/{number}", get(sewn))
        .route("/quilts/{quilt}/strip/{number}", get(strip))
        .route("/quilts/{quilt}/events", get(hear))
        .route("/quilts/{quilt}/why/{id}", get(why))
        .route("/quilts/{quilt}/out/{file}", get(hand_out))
        .route("/quilts/{quilt}/hand-out", get(counter).post(begin_handing))
        .route("/quilts/{quilt}/hand-out/stop", post(stop_handing))
        .route("/quilts/{quilt}/hand-out/progress", get(hear_handing))
        .route("/quilts/{quilt}/hand-out/zip", get(take_zip))
        .route("/quilts/{quilt}/words", get(words))
        .route(
            "/quilts/{quilt}/photo/{block}",
            get(photo)
                .post(keep_photo)
                .layer(DefaultBodyLimit::max(MOST_PHOTO_BYTES + 1024)),
        )
        .route("/miniatures/{quilt}", get(miniature))
        .fallback(|| async { lost("There is nothing at this address.") })
        .layer(DefaultBodyLimit::max(MOST_BODY))
        .with_state(app)
        .layer(middleware::from_fn_with_state(hosts, guard::guard))
}

/// For requests that bring a picture or a drawing.
fn large() -> DefaultBodyLimit {
    DefaultBodyLimit::max(crate::pictures::MOST_BYTES + 1)
}

fn lost(words: &str) -> Response {
    (StatusCode::NOT_FOUND, page_shelf::trouble("Not found", words)).into_response()
}

pub(super) fn of_shelf(error: &ShelfError) -> Response {
    let status = match error {
        ShelfError::NotAName => StatusCode::UNPROCESSABLE_ENTITY,
        ShelfError::Taken => StatusCode::CONFLICT,
        ShelfError::Missing => StatusCode::NOT_FOUND,
        ShelfError::Io(_) => StatusCode::INTERNAL_SERVER_ERROR,
    };
    (status, page_shelf::trouble("That did not work", &error.to_string())).into_response()
}

pub(super) fn refused(refused: &Refused) -> Response {
    let status = match refused.code.as_str() {
        "changed-meanwhile" => StatusCode::CONFLICT,
        "file-gone" => StatusCode::GONE,
        "not-saved" => StatusCode::INSUFFICIENT_STORAGE,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    };
    (status, Json(Trouble::from(refused))).into_response()
}

async fn described() -> Response {
    Json(describe::description()).into_response()
}

async fn asset(Path((edition, name)): Path<(String, String)>) -> Response {
    assets::asset(&edition, &name).unwrap_or_else(|| lost("There is no such file."))
}

async fn shelf(State(app): State<App>) -> Response {
    match page_shelf::page(&app) {
        Ok(page) => page.into_response(),
        Err(error) => of_shelf(&ShelfError::Io(error)),
    }
}

#[derive(Deserialize)]
struct ShelfForm {
    #[serde(default)]
    name: String,
    #[serde(default)]
    to: String,
    #[serde(default)]
    from: String,
    #[serde(default)]
    metric: String,
}

/// A body that is no form, or not this one.
fn not_a_form(rejection: &FormRejection) -> Response {
    let words = format!("This is no form that is known here: {}.", rejection.body_text());
    (rejection.status(), page_shelf::trouble("That did not work", &words)).into_response()
}

async fn change_shelf(
    State(app): State<App>,
    Path(what): Path<String>,
    form: Result<Form<ShelfForm>, FormRejection>,
) -> Response {
    let form = match form {
        Ok(Form(form)) => form,
        Err(rejection) => return not_a_form(&rejection),
    };
    let done = match what.as_str() {
        "new" => {
            page_shelf::put_new(&app, &form.to, &form.from, form.metric == "yes").map(|name| format!("/quilts/{name}"))
        }
        "copy" => page_shelf::copy(&app, &form.name, &form.to).map(|()| "/".to_string()),
        "rename" => page_shelf::rename(&app, &form.name, &form.to).map(|()| "/".to_string()),
        "bin" => {
            app.close(&form.name);
            app.shelf.bin_it(&form.name).map(|()| "/".to_string())
        }
        "take-back" => app.shelf.take_back(&form.name).map(|()| "/".to_string()),
        "empty-bin" => app.shelf.empty_bin().map(|()| "/".to_string()),
        _ => return lost("The shelf knows no such deed."),
    };
    match done {
        Ok(to) => Redirect::to(&to).into_response(),
        Err(error) => of_shelf(&error),
    }
}

#[derive(Deserialize)]
struct PlaceQuery {
    #[serde(default)]
    part: String,
}

fn shown(page: Markup) -> Response {
    page.into_response()
}

async fn place(
    State(app): State<App>,
    Path((name, place)): Path<(String, String)>,
    Query(query): Query<PlaceQuery>,
) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    let only_cloth = query.part == "cloth";
    match place.as_str() {
        "draw" => {
            let moment = quilt.moment();
            let first = moment
                .design
                .ok()
                .and_then(|d| d.first_block().or(d.blocks.first()).map(|b| b.name.clone()));
            match first {
                Some(block) => Redirect::to(&format!("/quilts/{name}/draw/{block}")).into_response(),
                None => Redirect::to(&format!("/quilts/{name}/quilt")).into_response(),
            }
        }
        "quilt" => shown(page_quilt::page(&quilt, only_cloth)),
        "cloth" => shown(page_cloth::page(&quilt, only_cloth)),
        "pattern" => shown(page_pattern::page(&quilt, only_cloth)),
        _ => lost("There is no such place in the workshop."),
    }
}

async fn draw(
    State(app): State<App>,
    Path((name, block)): Path<(String, String)>,
    Query(query): Query<PlaceQuery>,
) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => shown(page_draw::page(&quilt, &block, query.part == "cloth")),
        Err(error) => of_shelf(&error),
    }
}

#[derive(Deserialize)]
struct AimQuery {
    x: f64,
    y: f64,
    from_x: Option<f64>,
    from_y: Option<f64>,
    reach: f64,
}

async fn aim(
    State(app): State<App>,
    Path((name, block)): Path<(String, String)>,
    Query(query): Query<AimQuery>,
) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    let moment = quilt.moment();
    let finite = [query.x, query.y, query.reach].iter().all(|v| v.is_finite());
    let (Ok(design), true) = (&moment.design, finite) else {
        return refused(&Refused {
            code: "no-aim".into(),
            words: "There is nothing to aim at.".into(),
        });
    };
    let from = match (query.from_x, query.from_y) {
        (Some(x), Some(y)) if x.is_finite() && y.is_finite() => Some(kurbo::Point::new(x, y)),
        _ => None,
    };
    match page_draw::drawing_of(&moment.text, design, &block) {
        Ok(drawing) => {
            let inches = design.quilt.measure == measure::Measure::Inch;
            let aim = drawing::aim(
                &drawing,
                kurbo::Point::new(query.x, query.y),
                from,
                query.reach.clamp(0.0, 10.0),
                inches,
            );
            Json(Aimed {
                x: aim.at.x,
                y: aim.at.y,
                snap: format!("{:?}", aim.snap).to_lowercase(),
                words: aim.words,
            })
            .into_response()
        }
        Err(words) => refused(&Refused {
            code: "no-aim".into(),
            words,
        }),
    }
}

fn answered(quilt: &Arc<Opened>, moment: &super::app::Moment) -> Response {
    let working = quilt.worked().is_none_or(|w| w.revision != moment.revision);
    Json(Changed {
        revision: moment.revision.clone(),
        undo: moment.undo.clone(),
        redo: moment.redo.clone(),
        working,
    })
    .into_response()
}

async fn wish(
    State(app): State<App>,
    Path(name): Path<String>,
    body: Result<Json<WishBody>, JsonRejection>,
) -> Response {
    let Json(body) = match body {
        Ok(body) => body,
        Err(rejection) => {
            let trouble = Trouble {
                code: "not-a-wish".into(),
                words: format!("This is no wish: {}.", rejection.body_text()),
            };
            return (rejection.status(), Json(trouble)).into_response();
        }
    };
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    match app.grant(&quilt, &body.base, &body.wish) {
        Ok(moment) => {
            if let Wish::Rename { list, from, to } = &body.wish
                && list == "block"
            {
                pictures::renamed(&app, &name, from, to);
            }
            answered(&quilt, &moment)
        }
        Err(why) => refused(&why),
    }
}

async fn undo(State(app): State<App>, Path(name): Path<String>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => match app.undo(&quilt) {
            Ok(moment) => answered(&quilt, &moment),
            Err(why) => refused(&why),
        },
        Err(error) => of_shelf(&error),
    }
}

async fn redo(State(app): State<App>, Path(name): Path<String>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => match app.redo(&quilt) {
            Ok(moment) => answered(&quilt, &moment),
            Err(why) => refused(&why),
        },
        Err(error) => of_shelf(&error),
    }
}

#[derive(Deserialize)]
struct LivingQuery {
    #[serde(default)]
    have: String,
    #[serde(default = "all_leaves")]
    show: String,
}

fn all_leaves() -> String {
    "*".into()
}

async fn living(State(app): State<App>, Path(name): Path<String>, Query(query): Query<LivingQuery>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => page_pattern::living(&quilt, &query.have, &query.show).into_response(),
        Err(error) => of_shelf(&error),
    }
}

#[derive(Deserialize)]
struct DrawingsQuery {
    #[serde(default)]
    want: String,
}

async fn drawings(State(app): State<App>, Path(name): Path<String>, Query(query): Query<DrawingsQuery>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => page_pattern::drawings(&quilt, &query.want).into_response(),
        Err(error) => of_shelf(&error),
    }
}

async fn sewn(State(app): State<App>, Path((name, number)): Path<(String, usize)>) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    // A large making's film takes a while: it is told beside the other requests.
    let told = tokio::task::spawn_blocking(move || page_sewn::film(&quilt, number)).await;
    match told {
        Ok(Some(film)) => film.into_response(),
        _ => lost("There is no such unit to watch; or it has more pieces than a screen can play."),
    }
}

async fn strip(State(app): State<App>, Path((name, number)): Path<(String, usize)>) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    match tokio::task::spawn_blocking(move || page_sewn::strip(&quilt, number)).await {
        Ok(Some(page)) => shown(page),
        _ => lost("There is no such unit to print; or it has more pieces than go on one page."),
    }
}

async fn hear(State(app): State<App>, Path(name): Path<String>, ear: events::Ear) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => match ear {
            Ok(upgrade) => upgrade.on_upgrade(move |socket| window::follow(socket, quilt)),
            none => events::tell(none, "changed", events::of_quilt(&quilt)),
        },
        Err(error) => of_shelf(&error),
    }
}

async fn why(State(app): State<App>, Path((name, id)): Path<(String, u32)>) -> Response {
    let markup = app
        .quilt(&name)
        .ok()
        .and_then(|quilt| quilt.worked())
        .and_then(|worked| {
            let book = worked.book.as_ref()?;
            book.why_html(recipe::WhyId(id))
        });
    match markup {
        Some(markup) => maud::PreEscaped(markup).into_response(),
        None => lost("There is no such number any more."),
    }
}

async fn hand_out(
    State(app): State<App>,
    Path((name, file)): Path<(String, String)>,
    Query(query): Query<handing_out::Wanted>,
) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => handing_out::file(&app, &quilt, &file, query).await,
        Err(error) => of_shelf(&error),
    }
}

async fn counter(State(app): State<App>, Path(name): Path<String>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => handing_out::page(&app, &quilt),
        Err(error) => of_shelf(&error),
    }
}

async fn begin_handing(
    State(app): State<App>,
    Path(name): Path<String>,
    headers: HeaderMap,
    form: Result<Form<Vec<(String, String)>>, FormRejection>,
) -> Response {
    let form = match form {
        Ok(Form(form)) => form,
        Err(rejection) => return not_a_form(&rejection),
    };
    match app.quilt(&name) {
        Ok(quilt) => handing_out::begin(&app, &quilt, &headers, &form),
        Err(error) => of_shelf(&error),
    }
}

async fn stop_handing(State(app): State<App>, Path(name): Path<String>, headers: HeaderMap) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => handing_out::stop(&app, &quilt, &headers),
        Err(error) => of_shelf(&error),
    }
}

async fn hear_handing(State(app): State<App>, Path(name): Path<String>, ear: events::Ear) -> Response {
    match app.quilt(&name) {
        Ok(_) => events::tell(ear, "progress", handing_out::progress(&app, &name)),
        Err(error) => of_shelf(&error),
    }
}

async fn take_zip(State(app): State<App>, Path(name): Path<String>) -> Response {
    match app.quilt(&name) {
        Ok(_) => handing_out::zip(&app, &name).await,
        Err(error) => of_shelf(&error),
    }
}

async fn words(State(app): State<App>, Path(name): Path<String>, Query(spot): Query<page_words::Spot>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => page_words::words(&quilt, &spot).into_response(),
        Err(error) => of_shelf(&error),
    }
}

async fn photo(State(app): State<App>, Path((name, block)): Path<(String, String)>) -> Response {
    match app.quilt(&name) {
        Ok(quilt) => photos::photo(&app, &quilt, &block).await,
        Err(error) => of_shelf(&error),
    }
}

#[derive(Deserialize)]
struct BaseQuery {
    #[serde(default)]
    base: String,
}

async fn keep_photo(
    State(app): State<App>,
    Path((name, block)): Path<(String, String)>,
    Query(query): Query<BaseQuery>,
    body: Result<Bytes, BytesRejection>,
) -> Response {
    let quilt = match app.quilt(&name) {
        Ok(quilt) => quilt,
        Err(error) => return of_shelf(&error),
    };
    let Ok(bytes) = body else {
        return photos::refused(&PhotoFault::TooLarge);
    };
    match photos::keep(&app, &quilt, &block, &query.base, bytes).await {
        Ok(moment) => answered(&quilt, &moment),
        Err(why) => why,
    }
}

async fn miniature(State(app): State<App>, Path(name): Path<String>) -> Response {
    match page_shelf::miniature(&app, &name) {
        Ok(svg) => ([(axum::http::header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        Err(error) => of_shelf(&error),
    }
}
