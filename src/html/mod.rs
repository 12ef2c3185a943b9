//! Pages of HTML that hold everything in themselves: the one frame that every page of the program has.
//! A page asks nothing of any network, needs no script, is read on a phone, and prints on Letter and A4.
//!
//! What goes into a page is escaped by `maud`, wherever it comes from.

use std::fmt::Write;

use base64::prelude::{BASE64_STANDARD, Engine};
pub use maud::{Markup, PreEscaped, html};

use crate::texts::Lang;

const STYLE: &str = include_str!("../../assets/page/page.css");
/// The fonts of the program, by their weight.
const FONTS: [(&str, &[u8]); 2] = [
    ("400", include_bytes!("../../assets/fonts/B612-Regular.otf")),
    ("700", include_bytes!("../../assets/fonts/B612-Bold.otf")),
];
/// What a page may load: what it brings along itself.
const POLICY: &str = "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'";
/// How the mark begins by which a page of the program is known.
const MARK: &str = "<meta name=\"generator\" content=\"";

/// A page.
#[derive(Clone, Debug)]
pub struct Page<'a> {
    pub lang: Lang,
    pub title: &'a str,
    /// What kind of page it is, to know it again by; no text for people.
    pub kind: &'a str,
    /// What stands at the head and at the foot of every sheet of paper.
    pub sheet: Option<Sheet<'a>>,
    pub body: Markup,
}

/// See [`Page::sheet`].
#[derive(Clone, Copy, Debug)]
pub struct Sheet<'a> {
    pub head: &'a str,
    pub foot: &'a str,
}

impl Page<'_> {
    /// As the text of a file.
    pub fn text(&self) -> String {
        let page = html! {
            (maud::DOCTYPE)
            html lang=(self.lang.code()) {
                head {
                    meta charset="UTF-8";
                    meta name="viewport" content="width=device-width";
                    meta http-equiv="Content-Security-Policy" content=(POLICY);
                    (PreEscaped(mark(self.kind)))
                    title { (self.title) }
                    style { (PreEscaped(style(self.sheet))) }
                }
                body { (self.body) }
            }
        };
        page.into_string() + "\n"
    }

    /// Whether a text is a page of a kind.
    pub fn is_of(kind: &str, text: &[u8]) -> bool {
        let mark = mark(kind);
        // It stands near the beginning, before anything long.
        let head = text.get(..text.len().min(1024)).unwrap_or_default();
        head.windows(mark.len())
            .any(|window| window == mark.as_bytes())
    }
}

fn mark(kind: &str) -> String {
    format!("{MARK}{} {kind}\">", env!("CARGO_PKG_NAME"))
}

fn style(sheet: Option<Sheet>) -> String {
    let mut style = String::new();
    for (weight, font) in FONTS {
        let font = BASE64_STANDARD.encode(font);
        let _ = writeln!(
            style,
            "@font-face{{font-family:B612;font-weight:{weight};\
             src:local(\"B612\"),url(data:font/otf;base64,{font})}}"
        );
    }
    style.push_str(STYLE);
    let margins = match sheet {
        None => "margin:15mm".to_owned(),
        Some(Sheet { head, foot }) => format!(
            "margin:18mm 15mm 24mm;\
             @top-left{{width:75%;content:{};font:7.5pt B612,sans-serif}}\
             @top-right{{width:25%;content:counter(page) \" / \" counter(pages);font:7.5pt B612,sans-serif;text-align:right}}\
             @bottom-left{{width:100%;content:{};font:6.5pt/1.35 B612,sans-serif;vertical-align:top}}",
            quoted(head),
            quoted(foot)
        ),
    };
    let _ = writeln!(style, "@page{{{margins}}}");
    style
}

/// A text as a string of a style sheet: everything but letters and digits by its number, so that nothing
/// in it ends the string or the sheet.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        if c.is_ascii_alphanumeric() {
            quoted.push(c);
        } else {
            let _ = write!(quoted, "\\{:06x}", u32::from(c));
        }
    }
    quoted.push('"');
    quoted
}

/// A table of texts, its first row the head; `figures` are set right, in a grid.
pub fn table(rows: &[Vec<String>]) -> Markup {
    let mut rows = rows.iter();
    html! {
        div.scroll tabindex="0" {
            table.figures {
                @if let Some(head) = rows.next() {
                    thead { tr { @for cell in head { th scope="col" { (cell) } } } }
                }
                tbody {
                    @for row in rows {
                        tr { @for cell in row { td { (cell) } } }
                    }
                }
            }
        }
    }
}

/// Bytes of a picture as an address that needs no network.
pub fn data_url(media_type: &str, bytes: &[u8]) -> String {
    format!("data:{media_type};base64,{}", BASE64_STANDARD.encode(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_string_of_the_style_ends_it() {
        let hostile = "a\"}</style><script>\\ é\n";
        let quoted = quoted(hostile);
        let inner = &quoted[1..quoted.len() - 1];
        assert!(
            inner
                .chars()
                .all(|c| c.is_ascii_alphanumeric() || c == '\\')
        );
        assert!(quoted.starts_with("\"a\\000022\\00007d\\00003c"));
    }

    #[test]
    fn a_page_is_known_by_its_mark() {
        let page = Page {
            lang: Lang::English,
            title: "a < b",
            kind: "report",
            sheet: None,
            body: html! { p { "x" } },
        };
        let text = page.text();
        assert!(Page::is_of("report", text.as_bytes()));
        assert!(!Page::is_of("sheet", text.as_bytes()));
        assert!(!Page::is_of("report", b"<!DOCTYPE html>"));
        assert!(text.contains("<title>a &lt; b</title>"));
    }
}
