//! From a paper to the bytes of a PDF.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Feature, Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::paper::{Attachment, Paper, PaperError, Stamp};
use crate::sheet::{Sheet, sheet};
use crate::signs::Signs;

/// The template, which is the only code the type-setter ever reads.
const TEMPLATE: &str = include_str!("paper.typ");

/// The faces, loaded once for all papers: half a second of a first page is spent here.
static FACES: LazyLock<Faces> = LazyLock::new(Faces::load);

struct Faces {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

impl Faces {
    /// The sans comes first, because every other face falls back on it.
    fn load() -> Self {
        let sans = [
            dejavu::sans::regular(),
            dejavu::sans::bold(),
            dejavu::sans::oblique(),
            dejavu::sans_mono::regular(),
        ];
        let fonts: Vec<Font> = sans
            .into_iter()
            .chain(typst_assets::fonts())
            .filter_map(|bytes| Font::new(Bytes::new(bytes), 0))
            .filter(|font| {
                let family = font.info().family.as_str();
                matches!(family, "DejaVu Sans" | "Libertinus Serif")
                    || (family == "DejaVu Sans Mono" && !font.info().variant.weight.to_number().gt(&400))
            })
            .collect();
        // The extras are what tells a listener that a row is headed by its first cell.
        let features = [Feature::A11yExtras].into_iter().collect();
        let library = Library::builder().with_features(features).build();
        Self { library: LazyHash::new(library), book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
    }
}

/// All that the template can reach: itself, its data, the pictures and the attachments.
struct Desk {
    main: Source,
    files: Vec<(FileId, Bytes)>,
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &FACES.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &FACES.book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() { Ok(self.main.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let found = self.files.iter().find(|(at, _)| *at == id);
        found.map(|(_, bytes)| bytes.clone()).ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FACES.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// Sets a paper and gives the bytes of its PDF.
///
/// The file claims PDF/A-3a (ISO 19005-3) and PDF/UA-1 (ISO 14289-1) and is refused by the
/// type-setter if it does not keep what they ask. The same paper, attachments and stamp give the
/// same bytes. A picture that cannot be read is replaced by a line that says so.
///
/// # Errors
///
/// [`PaperError`] names what was given and what would be right. No text of a person is refused:
/// a sign that the faces do not hold is written by its number, such as `[U+1F3B8]`.
pub fn pdf(paper: &Paper, attachments: &[Attachment], stamp: &Stamp) -> Result<Vec<u8>, PaperError> {
    let bytes = pages(paper, attachments).and_then(|pages| file(&pages, stamp));
    // The type-setter remembers every picture it has seen; one paper does not help the next.
    typst::comemo::evict(0);
    bytes
}

/// The pages as they will be printed.
fn pages(paper: &Paper, attachments: &[Attachment]) -> Result<PagedDocument, PaperError> {
    check(attachments)?;
    let sheet = sheet(paper, attachments, Signs::new(FACES.fonts[0].info()))?;
    let desk = desk(sheet, attachments)?;
    typst::compile(&desk).output.map_err(|e| refused(&e))
}

/// The pages as a file.
fn file(pages: &PagedDocument, stamp: &Stamp) -> Result<Vec<u8>, PaperError> {
    let day = Datetime::from_ymd(i32::from(stamp.year), stamp.month, stamp.day).ok_or(PaperError::Date {
        year: stamp.year,
        month: stamp.month,
        day: stamp.day,
    })?;
    let standards = PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1])
        .map_err(|e| PaperError::Setting { said: e.message().to_string() })?;
    let options = PdfOptions {
        ident: Smart::Custom(stamp.ident.clone()),
        creator: Smart::Custom(Some("asfound".to_owned())),
        timestamp: Some(Timestamp::new_utc(day)),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(pages, &options).map_err(|e| refused(&e))
}

/// Puts the template and its data where the type-setter finds them. The paths are ours and few:
/// the type-setter never forgets a path, and has room for 65,535.
fn desk(sheet: Sheet, attachments: &[Attachment]) -> Result<Desk, PaperError> {
    let mut files = vec![(at("paper.json")?, Bytes::from_string(sheet.data.to_string()))];
    for (n, bytes) in sheet.pictures.into_iter().enumerate() {
        files.push((at(&format!("picture-{n}"))?, bytes));
    }
    for (n, file) in attachments.iter().enumerate() {
        files.push((at(&format!("attachment-{n}"))?, Bytes::new(file.bytes.clone())));
    }
    Ok(Desk { main: Source::new(at("paper.typ")?, TEMPLATE.to_owned()), files })
}

fn at(name: &str) -> Result<FileId, PaperError> {
    let path = VirtualPath::new(name).map_err(|e| PaperError::Setting { said: format!("{name}: {e}") })?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

fn refused(said: &[SourceDiagnostic]) -> PaperError {
    let said: Vec<_> = said.iter().map(|one| one.message.as_str()).collect();
    PaperError::Setting { said: said.join("; ") }
}

fn check(attachments: &[Attachment]) -> Result<(), PaperError> {
    for (n, file) in attachments.iter().enumerate() {
        let name = file.name.as_str();
        let plain = !name.trim().is_empty()
            && !matches!(name, "." | "..")
            && name.chars().count() <= 120
            && !name.contains(|c: char| c.is_control() || matches!(c, '/' | '\\' | ':'));
        if !plain {
            return Err(PaperError::AttachmentName { read: file.name.clone() });
        }
        if attachments[..n].iter().any(|other| other.name == file.name) {
            return Err(PaperError::AttachmentTwice { name: file.name.clone() });
        }
        if !is_media_type(&file.media) {
            let read = file.media.clone();
            return Err(PaperError::AttachmentMedia { name: file.name.clone(), read });
        }
    }
    Ok(())
}

/// Whether a text is `type/subtype` with the signs that RFC 6838, 4.2 allows.
fn is_media_type(text: &str) -> bool {
    let name = |part: &str| {
        !part.is_empty()
            && part.len() <= 127
            && part.starts_with(|c: char| c.is_ascii_alphanumeric())
            && part.bytes().all(|b| b.is_ascii_alphanumeric() || b"!#$&-^_.+".contains(&b))
    };
    text.split_once('/').is_some_and(|(kind, subtype)| name(kind) && name(subtype))
}

#[cfg(test)]
mod tests;
