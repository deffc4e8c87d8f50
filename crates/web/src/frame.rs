//! What stands around every page: head, title, tabs, and the touch that hides money.

use axum::http::{HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{DOCTYPE, Markup, html};
use serde::Deserialize;

use crate::asked::Form;
use crate::files::VERSION;

/// Whether sums are shown on this device.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Money {
    Shown,
    Hidden,
}

impl Money {
    /// From the device's cookie.
    pub(crate) fn of(headers: &HeaderMap) -> Money {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
        let hidden = cookies.flat_map(|text| text.split(';')).any(|cookie| cookie.trim() == "money=hidden");
        if hidden { Money::Hidden } else { Money::Shown }
    }
}

#[derive(Deserialize)]
pub(crate) struct MoneyForm {
    show: String,
    back: String,
}

/// Hides or shows sums on this device.
pub(crate) async fn money(Form(form): Form<MoneyForm>) -> Response {
    let value = if form.show == "yes" { "shown" } else { "hidden" };
    let back = if is_own_page(&form.back) { form.back.as_str() } else { "/" };
    let cookie = format!("money={value}; Path=/; SameSite=Strict; HttpOnly; Max-Age=31536000");
    let mut response = Redirect::to(back).into_response();
    if let Ok(cookie) = HeaderValue::from_str(&cookie) {
        response.headers_mut().insert(header::SET_COOKIE, cookie);
    }
    response
}

/// Whether an address leads to a page here: browsers take `//` and `/\` for the beginning of another machine's name.
fn is_own_page(address: &str) -> bool {
    let mut signs = address.bytes();
    signs.next() == Some(b'/')
        && !matches!(signs.next(), Some(b'/' | b'\\'))
        && address.bytes().all(|sign| sign.is_ascii_graphic())
}

/// A page's surroundings.
pub(crate) struct Frame<'a> {
    /// The page's title, for the browser's tab.
    pub(crate) title: &'a str,
    /// Its own address, to come back to.
    pub(crate) here: &'a str,
    /// The workshop's name.
    pub(crate) workshop: &'a str,
    /// Whether sums are shown; `None` on a page that never has any.
    pub(crate) money: Option<Money>,
}

impl Frame<'_> {
    /// The whole page. `head` stands in the header under the bar, `body` after it.
    pub(crate) fn draw(&self, head: Markup, body: Markup) -> Markup {
        html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    title { (self.title) }
                    link rel="icon" href="data:,";
                    link rel="stylesheet" href={ "/style.css?" (VERSION) };
                    script src={ "/script.js?" (VERSION) } defer {}
                }
                body {
                    a.skip href="#main" { "To the findings" }
                    header.top {
                        div.bar {
                            a.home href="/" { (self.workshop) }
                            @if let Some(money) = self.money { (self.money_touch(money)) }
                        }
                        (head)
                    }
                    (body)
                }
            }
        }
    }

    fn money_touch(&self, money: Money) -> Markup {
        let (show, words) = match money {
            Money::Shown => ("no", "Hide money"),
            Money::Hidden => ("yes", "Show money"),
        };
        html! {
            form method="post" action="/money" {
                input type="hidden" name="show" value=(show);
                input type="hidden" name="back" value=(self.here);
                button.quiet { (words) }
            }
        }
    }
}
