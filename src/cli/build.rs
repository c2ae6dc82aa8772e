//! `build`: the sheets of every plan below the paths.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use rayon::prelude::*;

use super::show::{failed, found, number, refused, say, told};
use super::{End, How};
use crate::document::{Arrangement, Fault, Sheet, Templates, ToAPage, Which};
use crate::sheets::Sheets;
use crate::{Files, Format, pages, plan, source};

/// What is built, from what, and where to.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// Plans, project folders, or folders with projects below them; the current folder where none is given.
    paths: Vec<PathBuf>,
    /// Only this sheet; may be given several times.
    #[arg(long = "sheet", value_name = "NAME", value_parser = sheet)]
    sheets: Vec<Sheet>,
    /// The folder for the sheets; each project has a folder of its own in it.
    #[arg(long, default_value = "out", value_name = "DIR")]
    out: PathBuf,
    /// pdf: a file for each sheet and one of them all; png, svg: a file for each page of a sheet. Several with commas between.
    #[arg(long = "format", value_name = "FORMAT", value_enum, value_delimiter = ',', default_value = "pdf")]
    formats: Vec<Form>,
    /// How fine a PNG is, in pixels to the inch, from 50 to 600; 144 where nothing is said.
    #[arg(long, value_name = "N", value_parser = pixels_per_inch)]
    ppi: Option<u32>,
    /// The paper for this time, whatever the plan says: A4 or Letter.
    #[arg(long, value_enum, ignore_case = true)]
    paper: Option<Paper>,
    /// Print every sheet so many times over, from 1 to 99; the file of all sheets has each of them once.
    #[arg(long, value_name = "N", default_value = "1", value_parser = clap::value_parser!(u8).range(1..=99))]
    copies: u8,
    /// Draw sheets smaller, 2 or 4 pages on each, with lines to cut along; what has to be of true size, and the file of all
    /// sheets, stay as they are.
    #[arg(long, value_name = "N", value_parser = to_a_page)]
    per_page: Option<ToAPage>,
    /// A folder of your own templates, in place of those in the program.
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

/// A form of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Pdf,
    Png,
    Svg,
}

/// A size of paper, in the words of the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Paper {
    #[value(name = "A4")]
    A4,
    #[value(name = "Letter")]
    Letter,
}

/// Pixels to the inch where nothing is said: enough to read on a screen.
const PIXELS_PER_INCH: u32 = 144;

fn sheet(name: &str) -> Result<Sheet, String> {
    Sheet::named(name).map_err(|sheets| format!("the sheets are {sheets}"))
}

fn pixels_per_inch(text: &str) -> Result<u32, String> {
    let range = pages::PIXELS_PER_INCH;
    text.parse().ok().filter(|n| range.contains(n)).ok_or_else(|| {
        format!("expected a whole number of pixels to the inch from {} to {}", range.start(), range.end())
    })
}

fn to_a_page(text: &str) -> Result<ToAPage, String> {
    match text {
        "2" => Ok(ToAPage::Two),
        "4" => Ok(ToAPage::Four),
        _ => Err("expected 2 or 4".to_owned()),
    }
}

impl Options {
    /// The forms of files, each once.
    fn formats(&self) -> Vec<Format> {
        let has = |form: Form| self.formats.contains(&form);
        let mut formats = Vec::new();
        formats.extend(has(Form::Pdf).then_some(Format::Pdf));
        formats.extend(has(Form::Png).then_some(Format::Png(self.ppi.unwrap_or(PIXELS_PER_INCH))));
        formats.extend(has(Form::Svg).then_some(Format::Svg));
        formats
    }

    fn arrangement(&self) -> Arrangement {
        Arrangement { copies: usize::from(self.copies), to_a_page: self.per_page.unwrap_or_default() }
    }
}

/// What became of one project: its end, what is told of its plan, and a line, with one for each file if more is wanted.
struct Built {
    end: End,
    told: Vec<u8>,
    lines: Vec<String>,
}

pub(super) fn build(options: &Options, how: How) -> End {
    if options.ppi.is_some() && !options.formats.contains(&Form::Png) {
        return refused("--ppi says how fine a PNG is, and none is asked for; add --format png");
    }
    if let Some(folder) = options.templates.as_deref().filter(|folder| !folder.join("lib.typ").is_file()) {
        let folder = folder.display();
        return failed(&format!(
            "there is no lib.typ in {folder}, which every sheet begins with; `wheelsheet templates NEW-FOLDER` writes a set"
        ));
    }
    let folders = match found(&options.paths) {
        Ok(folders) => folders,
        Err(end) => return end,
    };
    let projects: Vec<_> = folders.iter().map(|folder| source::read(folder)).collect();
    if let Some(name) = twice(&projects) {
        return refused(&format!(
            "two of the projects are called {name}; build them one at a time, each with its own --out"
        ));
    }
    let built: Vec<Built> = projects
        .into_par_iter()
        .map(|project| match project {
            Ok(project) => one(&project, options, how),
            Err(failure) => Built { end: End::Failed, told: Vec::new(), lines: vec![format!("error: {failure}")] },
        })
        .collect();
    // Messages keep the order of the projects, whichever was done first.
    for built in &built {
        let _ = std::io::stderr().lock().write_all(&built.told);
        if how.is_plain() || built.end == End::Failed {
            built.lines.iter().for_each(|line| say(line));
        }
    }
    built.iter().map(|built| built.end).max().unwrap_or(End::Well)
}

/// The name that two projects share, whose sheets would overwrite one another.
fn twice(projects: &[Result<source::Project, source::Failure>]) -> Option<&str> {
    let mut names: Vec<&str> = projects.iter().flatten().map(|project| project.name.as_str()).collect();
    names.sort_unstable();
    names.windows(2).find(|pair| pair[0] == pair[1]).map(|pair| pair[0])
}

fn one(project: &source::Project, options: &Options, how: How) -> Built {
    let outcome = crate::work_out(project);
    let told = told(&outcome, how);
    let Some(mut worked) = outcome.worked else {
        let old = options.out.join(&project.name);
        let stale = if old.is_dir() {
            format!("; the sheets in {} are of an earlier plan", old.display())
        } else {
            String::new()
        };
        let line = format!("{}: not built, its plan has errors{stale}", project.name);
        return Built { end: End::Faulty, told, lines: vec![line] };
    };
    worked.plan.paper = match options.paper {
        Some(Paper::A4) => plan::Paper::A4,
        Some(Paper::Letter) => plan::Paper::Letter,
        None => worked.plan.paper,
    };
    let sheets = crate::sheets(&worked);
    let present = sheets.present();
    let folder = options.out.join(&project.name);
    let done = made(&sheets, &present, options, &project.name).map_err(|fault| fault.to_string()).and_then(|made| {
        Ok((written(&folder, &made, sheets.n_students()).map_err(|failure| failure.to_string())?, made))
    });
    comemo::evict(10);
    let (names, made) = match done {
        Ok(done) => done,
        Err(text) => {
            return Built { end: End::Failed, told, lines: vec![format!("error: {}: {text}", project.name)] };
        }
    };
    let mut lines = vec![format!("{}: {} in {}", project.name, number(names.len(), "file"), folder.display())];
    let absent = options.sheets.iter().filter(|sheet| !present.contains(sheet)).map(|sheet| sheet.name().to_owned());
    let whole = made.iter().filter(|files| files.is_kept_whole).map(|files| files.which.name());
    for (names, why) in [
        (absent.collect::<Vec<_>>(), "no NAMES, since its log has nothing for it"),
        (whole.collect(), "NAMES one to a page, since what is cut out there has to be of its true size"),
    ] {
        if !names.is_empty() {
            lines.push(format!("{}: {}", project.name, why.replace("NAMES", &names.join(", "))));
        }
    }
    if how.verbose {
        lines.extend(names.iter().map(|name| format!("  {}", folder.join(name).display())));
    }
    Built { end: End::Well, told, lines }
}

/// The files of each sheet that is wanted, and of all of them where none is named: as PDF only, for the pages are there already.
fn made(sheets: &Sheets, present: &[Sheet], options: &Options, name: &str) -> Result<Vec<Files>, Fault> {
    let templates = options.templates.clone().map_or(Templates::Shipped, Templates::Folder);
    let formats = options.formats();
    let has_all = options.sheets.is_empty();
    let is_wanted = |sheet: &Sheet| has_all || options.sheets.contains(sheet);
    let mut wanted: Vec<(Which, Arrangement, &[Format])> = Vec::new();
    for sheet in present.iter().copied().filter(is_wanted) {
        wanted.push((Which::One(sheet), options.arrangement(), formats.as_slice()));
        if sheet == Sheet::StudentWorksheet {
            let students = (0..sheets.n_students()).map(Which::Student);
            wanted.extend(students.map(|student| (student, options.arrangement(), formats.as_slice())));
        }
    }
    if has_all && formats.contains(&Format::Pdf) {
        wanted.push((Which::All, Arrangement::default(), &[Format::Pdf]));
    }
    let make = |(which, arrangement, formats)| crate::files(sheets, which, &templates, arrangement, formats, name);
    // All are waited for, so that of several faults the same one is told every time.
    let made: Vec<Result<Files, Fault>> = wanted.into_par_iter().map(make).collect();
    made.into_iter().collect()
}

/// Writes the files, and then removes pages that a sheet no longer has. Gives the names of the files.
fn written(folder: &Path, made: &[Files], n_students: usize) -> Result<Vec<String>, pages::Failure> {
    let files: Vec<&(String, Vec<u8>)> = made.iter().flat_map(|files| &files.files).collect();
    pages::write(folder, &files)?;
    pages::remove(folder, |file| {
        // Files of students are numbered as pages are.
        let n = |files: &Files, ending: &str| match (files.which, ending) {
            (Which::One(Sheet::StudentWorksheet), "pdf") => n_students,
            _ => files.n_pages,
        };
        let is_stale = |files: &Files, ending| crate::is_stale(file, files.which, n(files, ending), ending);
        made.iter().any(|files| files.formats.iter().any(|format| is_stale(files, format.ending())))
    })?;
    Ok(files.iter().map(|(name, _)| name.clone()).collect())
}
