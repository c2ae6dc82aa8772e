//! Forms of files, and how sheets are put on paper: pictures, other paper, copies, several pages on one.

use std::fs;
use std::path::Path;

use hayro_syntax::Pdf;
use wheelsheet::document::text::{Run, lines, runs};
use wheelsheet::document::{self, Arrangement, Sheet, Templates, ToAPage, Which};
use wheelsheet::{Format, Worked, plan, work_out};

use super::cli::{SMALLEST, code, err, files, folder, wheelsheet};
use super::golden::projects;
use super::outline::{labels, outline};
use super::reference::ledgers::of_texts;

fn names(folder: &Path) -> Vec<String> {
    files(folder).iter().map(|path| path.display().to_string()).collect()
}

fn smallest() -> Worked {
    work_out(&of_texts(SMALLEST, "")).worked.expect("a sound plan")
}

/// Four bytes of a file as a number.
fn word(bytes: &[u8], at: usize) -> u32 {
    u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes"))
}

#[test]
fn pictures_are_one_a_page_and_there_are_none_of_all_sheets() {
    let top = folder(&[("a", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "--format", "png,svg", "--format", "png"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    let found = names(&top.path().join("out/a"));
    for name in ["wheel-card-1.png", "wheel-card-2.png", "wheel-card-1.svg", "overview-1.png", "workings-1.svg"] {
        assert!(found.contains(&name.to_owned()), "{name} is not in {found:?}");
    }
    assert!(found.iter().all(|name| !name.starts_with("all") && !name.ends_with("pdf")), "{found:?}");
    let some = wheelsheet(top.path(), &["build", "--format", "pdf,svg", "--sheet", "wheel-card", "--out", "some"]);
    assert_eq!(code(&some), 0, "{}", err(&some));
    assert_eq!(names(&top.path().join("some/a")), ["wheel-card-1.svg", "wheel-card-2.svg", "wheel-card.pdf"]);
}

#[test]
fn a_picture_is_as_large_as_its_paper_and_tells_how_fine_it_is() {
    let top = folder(&[("a", SMALLEST)]);
    for (args, fineness) in [([].as_slice(), 144.0), (&["--ppi", "50"], 50.0)] {
        let common = ["build", "--format", "png,svg", "--sheet", "wheel-card"];
        assert_eq!(code(&wheelsheet(top.path(), &[common.as_slice(), args].concat())), 0);
        let png = fs::read(top.path().join("out/a/wheel-card-1.png")).expect("a picture");
        assert_eq!(&png[..8], b"\x89PNG\r\n\x1a\n");
        let pixels = |mm: f64| (mm / 25.4 * fineness).round() as u32;
        assert_eq!((word(&png, 16), word(&png, 20)), (pixels(210.0), pixels(297.0)));
        let at = png.windows(4).position(|four| four == b"pHYs").expect("the size of its pixels");
        let per_metre = (fineness / 0.0254).round() as u32;
        assert_eq!((word(&png, at + 4), word(&png, at + 8), png[at + 12]), (per_metre, per_metre, 1));
    }
    let svg = fs::read_to_string(top.path().join("out/a/wheel-card-1.svg")).expect("a picture");
    assert!(svg.starts_with("<svg") && svg.contains("width=\"595.2") && !svg.contains("<text"), "{}", &svg[..200]);
}

/// The picture has the ink of the page: as much as its letters and lines, and on white.
#[test]
fn a_picture_shows_the_page() {
    let worked = smallest();
    let document = document::document(&wheelsheet::sheets(&worked), Which::One(Sheet::WheelCard), &Templates::Shipped)
        .expect("set");
    let png = wheelsheet::pages::png(&document.pages()[0], 50).expect("small enough");
    let mut reader = png::Decoder::new(std::io::Cursor::new(png)).read_info().expect("a picture");
    let mut pixels = vec![0; reader.output_buffer_size().expect("small")];
    reader.next_frame(&mut pixels).expect("pixels");
    assert_eq!(pixels[..3], [255, 255, 255], "the corner is white");
    let dark = pixels.chunks_exact(3).filter(|pixel| pixel.iter().all(|tone| *tone < 128)).count();
    let share = dark as f64 / (pixels.len() / 3) as f64;
    assert!((0.02..0.3).contains(&share), "{share}");
}

#[test]
fn nonsense_is_refused_with_what_can_be_said() {
    let top = folder(&[("a", SMALLEST)]);
    let refusals: [(&[&str], i32, &str); 10] = [
        (&["--format", "png", "--ppi", "49"], 2, "from 50 to 600"),
        (&["--format", "png", "--ppi", "601"], 2, "from 50 to 600"),
        (&["--format", "png", "--ppi", "fine"], 2, "from 50 to 600"),
        (&["--ppi", "100"], 1, "add --format png"),
        (&["--format", "pdf,gif"], 2, "pdf, png, svg"),
        (&["--paper", "A5"], 2, "A4, Letter"),
        (&["--copies", "0"], 2, "1..=99"),
        (&["--copies", "100"], 2, "1..=99"),
        (&["--per-page", "3"], 2, "expected 2 or 4"),
        (&["--sheet", "wheel-card", "--sheet", "card"], 2, "wheel-card"),
    ];
    for (args, wanted, says) in refusals {
        let refused = wheelsheet(top.path(), &[&["build"], args].concat());
        assert_eq!(code(&refused), wanted, "{args:?}: {}", err(&refused));
        assert!(err(&refused).contains(says), "{args:?}: {}", err(&refused));
    }
    assert!(!top.path().join("out").exists());
}

#[test]
fn pages_that_a_sheet_no_longer_has_are_removed_and_nothing_else_is() {
    let top = folder(&[("a", SMALLEST)]);
    let out = top.path().join("out/a");
    fs::create_dir_all(out.join("wheel-card-5.png")).expect("a folder of that name");
    let stale = ["wheel-card-3.png", "wheel-card-12.png"];
    let others = [
        "wheel-card-03.png",
        "wheel-card-3.svg",
        "wheel-card-x.png",
        "wheel-card-+4.png",
        "my-wheel-card-4.png",
        "overview-9.png",
        "wheel-card.pdf",
        "notes.txt",
    ];
    for name in stale.iter().chain(&others) {
        fs::write(out.join(name), "earlier").expect("a file");
    }
    let built = wheelsheet(top.path(), &["build", "--format", "png", "--sheet", "wheel-card"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    let mut wanted: Vec<&str> = others.iter().copied().chain(["wheel-card-1.png", "wheel-card-2.png"]).collect();
    wanted.sort_unstable();
    assert_eq!(names(&out), wanted);
    assert!(others.iter().all(|name| fs::read(out.join(name)).expect("left") == b"earlier"));
    assert!(out.join("wheel-card-5.png").is_dir());
}

#[test]
fn a_build_that_fails_removes_no_page() {
    let top = folder(&[("a", SMALLEST)]);
    let out = top.path().join("out/a");
    fs::create_dir_all(out.join("wheel-card-1.png")).expect("a folder in the way");
    fs::write(out.join("wheel-card-3.png"), "earlier").expect("a file");
    assert_eq!(code(&wheelsheet(top.path(), &["build", "--format", "png", "--sheet", "wheel-card"])), 2);
    assert_eq!(names(&out), ["wheel-card-3.png"]);
}

#[test]
fn the_paper_can_be_another_for_once_and_the_plan_keeps_its_print() {
    let top = folder(&[("a", SMALLEST)]);
    for (paper, size) in [("letter", (612.0, 792.0)), ("A4", (595.3, 841.9))] {
        let built = wheelsheet(top.path(), &["build", "--paper", paper, "--sheet", "wheel-card"]);
        assert_eq!(code(&built), 0, "{}", err(&built));
        let pdf = Pdf::new(fs::read(top.path().join("out/a/wheel-card.pdf")).expect("a sheet")).expect("a PDF");
        let (width, height) = pdf.pages()[0].render_dimensions();
        assert!((width - size.0).abs() < 0.1 && (height - size.1).abs() < 0.1, "{width} {height}");
    }
    let plan = smallest().plan;
    let other = plan::Plan { paper: plan::Paper::Letter, ..plan.clone() };
    assert_eq!(plan.fingerprints(), other.fingerprints());
    assert_ne!(plan.fingerprints(), plan::Plan { terms: plan::Terms::Us, ..plan.clone() }.fingerprints());
}

fn arranged(worked: &Worked, sheet: Sheet, copies: usize, to_a_page: ToAPage) -> document::Arranged {
    let arrangement = Arrangement { copies, to_a_page };
    document::arranged(&wheelsheet::sheets(worked), Which::One(sheet), &Templates::Shipped, arrangement)
        .expect("typeset")
}

#[test]
fn every_copy_counts_its_own_pages() {
    let worked = smallest();
    for sheet in [Sheet::WheelCard, Sheet::Workings] {
        let once = lines(&arranged(&worked, sheet, 1, ToAPage::One).document);
        let thrice = lines(&arranged(&worked, sheet, 3, ToAPage::One).document);
        assert!(
            thrice.len() == 3 * once.len() && thrice.chunks(once.len()).all(|copy| copy == once),
            "{} thrice",
            sheet.name()
        );
        assert!(once.len() > 1 && thrice[once.len()].iter().any(|line| line.contains("page 1 of")));
    }
    let top = folder(&[("a", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "--sheet", "wheel-card", "--copies", "3"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    let pdf = Pdf::new(fs::read(top.path().join("out/a/wheel-card.pdf")).expect("a sheet")).expect("a PDF");
    let wanted = (1..=3).flat_map(|copy| (1..=2).map(move |page| format!("copy {copy}: Wheel card {page}")));
    assert_eq!(labels(&pdf), wanted.collect::<Vec<_>>());
}

/// The runs of a document without the page they are on, in the order in which they were set.
fn words(document: &typst_layout::PagedDocument) -> Vec<String> {
    runs(document).into_iter().map(|run| run.text).collect()
}

/// Nothing nearer to the edge of the paper or to a cut than a printer and a pair of scissors are true to; in tenths of a millimetre.
const CLEAR: i64 = 40;

#[test]
fn several_pages_on_one_have_all_their_words_inside_their_own_part_of_the_paper() {
    for (name, _, worked) in projects() {
        for paper in [plan::Paper::A4, plan::Paper::Letter] {
            let worked = Worked { plan: plan::Plan { paper, ..worked.plan.clone() }, ..worked.clone() };
            for (to_a_page, across, down) in [(ToAPage::Two, 2, 1), (ToAPage::Four, 2, 2)] {
                for sheet in [Sheet::WheelCard, Sheet::BobbinChecklist, Sheet::ReorderNote] {
                    let one = arranged(&worked, sheet, 2, ToAPage::One).document;
                    let several = arranged(&worked, sheet, 2, to_a_page);
                    let place = format!("{name}, {paper:?}, {}, {to_a_page:?}", sheet.name());
                    assert!(!several.is_kept_whole, "{place}");
                    assert_eq!(words(&several.document), words(&one), "{place}");
                    assert_eq!(several.document.pages().len(), one.pages().len().div_ceil(across * down), "{place}");
                    is_in_its_part(&one, &several.document, (across, down), &place);
                }
            }
        }
    }
}

fn is_in_its_part(
    one: &typst_layout::PagedDocument,
    several: &typst_layout::PagedDocument,
    (across, down): (usize, usize),
    place: &str,
) {
    let size = several.pages()[0].frame.size();
    let tenths = |length: f64| (length * 10.0) as i64;
    let (width, height) = (tenths(size.x.to_mm()) / across as i64, tenths(size.y.to_mm()) / down as i64);
    let whole = one.pages()[0].frame.size();
    let scale = (size.x / across as f64 / whole.x).min(size.y / down as f64 / whole.y);
    for (before, after) in runs(one).iter().zip(&runs(several)) {
        let part = before.page % (across * down);
        let (left, top) = ((part % across) as i64 * width, (part / across) as i64 * height);
        let is_inside = |run: &Run| {
            run.x >= left + CLEAR
                && run.x + (run.width as f64 * scale) as i64 <= left + width - CLEAR
                && run.y >= top + CLEAR
                && run.y <= top + height - CLEAR
        };
        assert!(after.page == before.page / (across * down) && is_inside(after), "{place}: {after:?}");
    }
}

#[test]
fn pages_drawn_smaller_keep_their_outline() {
    let worked = smallest();
    let sheets = wheelsheet::sheets(&worked);
    let files = |to_a_page| {
        let arrangement = Arrangement { copies: 2, to_a_page };
        let which = Which::One(Sheet::WheelCard);
        let made = wheelsheet::files(&sheets, which, &Templates::Shipped, arrangement, &[Format::Pdf], "x");
        Pdf::new(made.expect("valid PDF/UA").files.remove(0).1).expect("a PDF")
    };
    let (one, four) = (files(ToAPage::One), files(ToAPage::Four));
    let titles = |pdf: &Pdf| outline(pdf).into_iter().map(|(depth, title, _)| (depth, title)).collect::<Vec<_>>();
    assert_eq!(titles(&one), titles(&four));
    assert_eq!((one.pages().len(), four.pages().len()), (4, 1));
    assert_eq!(labels(&four), ["Wheel card 1"]);
}

#[test]
fn what_has_to_be_of_true_size_stays_one_to_a_page_and_that_is_said() {
    for (name, _, worked) in projects() {
        for sheet in wheelsheet::sheets(&worked).present() {
            let several = arranged(&worked, sheet, 1, ToAPage::Two);
            let is_true_size = [Sheet::SampleCard, Sheet::Tags].contains(&sheet);
            assert_eq!(several.is_kept_whole, is_true_size, "{name}, {}", sheet.name());
        }
    }
    let top = folder(&[("a", SMALLEST)]);
    let built = wheelsheet(top.path(), &["build", "--per-page", "2"]);
    assert_eq!(code(&built), 0, "{}", err(&built));
    assert!(err(&built).contains("a: sample-card, tags one to a page, since"), "{}", err(&built));
    let n_pages = |name: &str, out: &str| {
        Pdf::new(fs::read(top.path().join(out).join(name)).expect("a sheet")).expect("a PDF").pages().len()
    };
    assert_eq!(n_pages("a/wheel-card.pdf", "out"), 1);
    assert_eq!(code(&wheelsheet(top.path(), &["build", "--out", "plain"])), 0);
    for name in ["a/all.pdf", "a/tags.pdf", "a/sample-card.pdf"] {
        let bytes = |out: &str| fs::read(top.path().join(out).join(name)).expect("a sheet");
        assert!(bytes("out") == bytes("plain"), "{name}");
    }
}
