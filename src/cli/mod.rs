//! The command line: arguments to calls of the library, results to streams, and nothing else.
//!
//! What was asked for goes to the standard output, everything else to the standard error.
//! Exit codes: 0 nothing wrong; 1 a plan has a fault, or what was asked for does not exist; 2 the machine failed.

mod build;
mod check;
mod convert;
mod explain;
mod figures;
mod log;
mod mark;
mod new;
mod schema;
mod show;
mod templates;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ColorChoice, Parser, Subcommand, ValueEnum};

/// Spinning plans to worksheets.
#[derive(Debug, Parser)]
#[command(
    name = "wheelsheet",
    version,
    about = "From a hand spinner's plan in plain text to worksheets for the wheel.",
    after_help = "Examples:\n  wheelsheet new shawl            a plan to begin with, in shawl/plan.toml\n  \
                  wheelsheet build shawl          its sheets, in out/shawl\n  \
                  wheelsheet explain singles.twist-at-wheel shawl"
)]
struct Cli {
    #[command(subcommand)]
    command: Command,
    #[command(flatten)]
    how: How,
}

/// How messages are shown.
#[derive(Debug, Clone, Copy, Args)]
struct How {
    /// When to use colour; the variable `NO_COLOR` turns it off too.
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN")]
    color: Colour,
    /// How faults of a plan are told.
    #[arg(long, global = true, value_enum, default_value_t = Messages::Human, value_name = "FORMAT")]
    message_format: Messages,
    /// Say only what is wrong.
    #[arg(short, long, global = true)]
    quiet: bool,
    /// Say of each plan and file what became of it.
    #[arg(short, long, global = true, conflicts_with = "quiet")]
    verbose: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Colour {
    /// On a terminal.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Messages {
    /// With the lines they are about.
    Human,
    /// One line each, for editors.
    Short,
    /// One JSON object each.
    Json,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Write a short plan that compiles as it stands, every line explained.
    #[command(after_help = "Example:\n  wheelsheet new shawl --from yarn")]
    New {
        /// Name of the project, and of the folder that is made for it.
        name: PathBuf,
        /// What you have decided first.
        #[arg(long, value_enum, default_value_t = new::From::Fibre, value_name = "WHAT")]
        from: new::From,
    },
    /// Find every fault of every plan below the paths; writes nothing.
    #[command(after_help = "Examples:\n  wheelsheet check\n  wheelsheet check --message-format short projects")]
    Check {
        /// Plans, project folders, or folders with projects below them; the current folder where none is given.
        paths: Vec<PathBuf>,
    },
    /// Check, calculate and typeset: one PDF for each sheet and one of them all, or a picture of each page.
    #[command(after_help = "Examples:\n  wheelsheet build projects/three-ply-pullover\n  \
                      wheelsheet build --sheet wheel-card --copies 4 --per-page 4    small cards, four to a page\n  \
                      wheelsheet build --sheet tags --paper Letter\n  \
                      wheelsheet build --format pdf,png --ppi 200                    a picture of each page as well")]
    Build(build::Options),
    /// List every figure with value, unit, low, high and standing.
    #[command(
        after_help = "Examples:\n  wheelsheet figures shawl\n  wheelsheet figures --format csv shawl > figures.csv"
    )]
    Figures {
        /// A plan or a project folder.
        path: Option<PathBuf>,
        /// The form of the list.
        #[arg(long, value_enum, default_value_t = figures::Form::Text, value_name = "FORM")]
        format: figures::Form,
    },
    /// Explain one figure of a plan, or one kind of fault.
    #[command(
        after_help = "Examples:\n  wheelsheet explain singles.twist-at-wheel shawl\n  wheelsheet explain missing-unit"
    )]
    Explain {
        /// Name of a figure, as `figures` lists it, or of a fault, as it stands in brackets behind "error".
        what: String,
        /// A plan or a project folder, for a figure.
        path: Option<PathBuf>,
    },
    /// Add an entry to the log of a project; what is there stays to the byte.
    #[command(
        after_help = "Examples:\n  wheelsheet log bobbin number=1 date=2026-03-12 \"full=96 g\" \"empty=58 g\" \"check.length=20 m\" \"check.weight=3.1 g\"\n  \
                      wheelsheet log --project shawl note date=2026-03-20 \"text=back at the wheel\""
    )]
    Log {
        /// What is entered.
        #[arg(value_enum)]
        kind: log::Kind,
        /// FIELD=VALUE, each in quotation marks where it has blanks; date=YYYY-MM-DD is one of them.
        #[arg(value_name = "FIELD=VALUE")]
        fields: Vec<String>,
        /// The project folder; the current one where none is given.
        #[arg(long, value_name = "PATH")]
        project: Option<PathBuf>,
    },
    /// Mark answers of students against the key of a class: what is right, what is a known slip, what to try next. Nothing is kept.
    #[command(
        after_help = "Example, with `student = 3` and `[ratio]` `a = 8.4` in the file:\n  wheelsheet mark answers.toml evening-class"
    )]
    Mark {
        /// A file of answers: TOML, or lines of student,exercise,question,answer where its name ends in .csv.
        answers: PathBuf,
        /// A plan or a project folder.
        path: Option<PathBuf>,
    },
    /// Write the templates of the sheets into a new folder, to be changed, with a list of all that they may read.
    #[command(after_help = "Examples:\n  wheelsheet templates mine\n  wheelsheet build --templates mine shawl")]
    Templates {
        /// The folder; a copy that nobody changed is brought up to date, any other is left alone.
        folder: PathBuf,
    },
    /// Print the JSON Schema of a plan, of a log, or of what the template of a sheet gets, for editors.
    #[command(after_help = "Examples:\n  wheelsheet schema plan > plan.schema.json\n  wheelsheet schema wheel-card")]
    Schema {
        /// plan, log, or the name of a sheet.
        #[arg(default_value = "plan", value_parser = schema::of)]
        of: schema::Of,
    },
    /// One quantity in every unit of its kind, or in one.
    #[command(
        after_help = "Examples:\n  wheelsheet convert \"1000 yd/lb\"\n  wheelsheet convert \"2/24 worsted count\" tex"
    )]
    Convert {
        /// A number with its unit.
        #[arg(allow_hyphen_values = true)]
        quantity: String,
        /// The unit wanted.
        unit: Option<String>,
    },
}

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    /// Nothing is wrong.
    Well,
    /// A plan has a fault.
    Faulty,
    /// The machine failed.
    Failed,
}

/// Runs the command that the arguments name.
pub fn run() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => return refused(&error),
    };
    deepen();
    let how = cli.how;
    let end = match cli.command {
        Command::New { name, from } => new::new(&name, from, how),
        Command::Check { paths } => check::check(&paths, how),
        Command::Build(options) => build::build(&options, how),
        Command::Figures { path, format } => figures::figures(path.as_deref(), format, how),
        Command::Explain { what, path } => explain::explain(&what, path.as_deref(), how),
        Command::Log { kind, fields, project } => log::log(kind, &fields, project, how),
        Command::Mark { answers, path } => mark::mark_file(&answers, path.as_deref(), how),
        Command::Templates { folder } => templates::templates(&folder, how),
        Command::Schema { of } => schema::schema(of),
        Command::Convert { quantity, unit } => convert::convert(&quantity, unit.as_deref()),
    };
    ExitCode::from(match end {
        End::Well => 0,
        End::Faulty => 1,
        End::Failed => 2,
    })
}

/// What a thread may nest, in bytes: typesetting nests deeply, and a thread that waits for another takes up its work meanwhile.
const DEEPEST: usize = 64 << 20;

/// Gives the threads that build room for what they nest. Memory that is not used is not taken.
fn deepen() {
    // Refused only where the threads run already, with what they were given then.
    let _ = rayon::ThreadPoolBuilder::new().stack_size(DEEPEST).build_global();
}

/// Shows help, version, or what is wrong with the arguments.
fn refused(error: &clap::Error) -> ExitCode {
    // A closed stream ends the program quietly; there is nobody left to tell.
    let _ = error.print();
    ExitCode::from(if error.use_stderr() { 2 } else { 0 })
}

impl How {
    /// Whether plain lines are said beside the faults; a reader of JSON wants none.
    fn is_plain(self) -> bool {
        !self.quiet && self.message_format != Messages::Json
    }

    /// Whether the stream of messages takes colour.
    fn colour(self) -> ColorChoice {
        use std::io::IsTerminal;
        match self.color {
            Colour::Always => ColorChoice::Always,
            Colour::Auto
                if std::io::stderr().is_terminal()
                    && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()) =>
            {
                ColorChoice::Always
            }
            Colour::Auto | Colour::Never => ColorChoice::Never,
        }
    }
}
