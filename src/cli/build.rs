//! `build`: the sheets of every plan below the paths.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use rayon::prelude::*;

use super::show::{found, number, refused, say, told};
use super::{End, How};
use crate::document::{Sheet, Templates, Which};
use crate::{pages, source};

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
    /// A folder of your own templates, in place of those in the program.
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
}

fn sheet(name: &str) -> Result<Sheet, String> {
    Sheet::ALL.into_iter().find(|sheet| sheet.name() == name).ok_or_else(|| {
        let names: Vec<&str> = Sheet::ALL.into_iter().map(Sheet::name).collect();
        format!("the sheets are {}", names.join(", "))
    })
}

/// What became of one project: its end, what is told of its plan, and a line, with one for each file if more is wanted.
struct Built {
    end: End,
    told: Vec<u8>,
    lines: Vec<String>,
}

pub(super) fn build(options: &Options, how: How) -> End {
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
    let Some(worked) = outcome.worked else {
        let old = options.out.join(&project.name);
        let stale = if old.is_dir() {
            format!("; the sheets in {} are of an earlier plan", old.display())
        } else {
            String::new()
        };
        let line = format!("{}: not built, its plan has errors{stale}", project.name);
        return Built { end: End::Faulty, told, lines: vec![line] };
    };
    let sheets = crate::sheets(&worked);
    let templates = options.templates.clone().map_or(Templates::Shipped, Templates::Folder);
    let all = options.sheets.is_empty();
    let present = sheets.present();
    let is_wanted = |sheet: &Sheet| all || options.sheets.contains(sheet);
    let chosen: Vec<Sheet> = present.iter().copied().filter(is_wanted).collect();
    let absent: Vec<&str> =
        options.sheets.iter().filter(|sheet| !present.contains(sheet)).map(|sheet| sheet.name()).collect();
    let mut wanted: Vec<Which> = chosen.iter().copied().map(Which::One).collect();
    wanted.extend(all.then_some(Which::All));
    let files: Result<Vec<(String, Vec<u8>)>, _> = wanted
        .into_par_iter()
        .map(|which| Ok((format!("{}.pdf", which.name()), crate::print(&sheets, which, &templates, &project.name)?)))
        .collect::<Result<_, crate::document::Fault>>();
    comemo::evict(10);
    let folder = options.out.join(&project.name);
    match files.map_err(|fault| fault.to_string()).and_then(|files| written(&folder, &files)) {
        Ok(names) => {
            let mut lines = vec![format!("{}: {} in {}", project.name, number(names.len(), "file"), folder.display())];
            if !absent.is_empty() {
                lines.push(format!("{}: no {}, since its log has nothing for it", project.name, absent.join(", ")));
            }
            if how.verbose {
                lines.extend(names.iter().map(|name| format!("  {}", folder.join(name).display())));
            }
            Built { end: End::Well, told, lines }
        }
        Err(text) => Built { end: End::Failed, told, lines: vec![format!("error: {}: {text}", project.name)] },
    }
}

fn written(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<Vec<String>, String> {
    pages::write(folder, files).map_err(|failure| failure.to_string())?;
    Ok(files.iter().map(|(name, _)| name.clone()).collect())
}
