//! The arguments, as clap reads them; what they mean is worked out in `resolve`.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::report::Options;

/// Reviews submittals for cantilever slide gates: points at the line where each problem is written, with the standard
/// behind it, what to do, and what the local code decides. It never says that a gate is safe or compliant.
#[derive(Debug, Parser)]
#[command(name = "gatewright", version, about, max_term_width = 100)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// How output looks.
    #[command(flatten)]
    pub look: Look,
}

/// How output looks.
#[derive(Debug, Args)]
pub struct Look {
    /// Color: auto uses it on a terminal unless NO_COLOR is set
    #[arg(long, global = true, value_enum, default_value_t = ColorWhen::Auto)]
    pub color: ColorWhen,
    /// Draw with ASCII characters only
    #[arg(long, global = true)]
    pub ascii: bool,
    /// Columns to keep within [default: the terminal's, else 80]
    #[arg(long, global = true, value_parser = clap::value_parser!(u16).range(i64::from(Options::NARROWEST)..=i64::from(Options::WIDEST)))]
    pub width: Option<u16>,
}

/// When to use color.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ColorWhen {
    /// On a terminal, unless NO_COLOR is set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Review submittals: files, folders, or `-` for standard input
    Review(ReviewArgs),
    /// List the rules that a review applies
    Rules(RulesArgs),
    /// Print one rule in full: why, what to do, its source, its cases
    Explain(ExplainArgs),
    /// Run the cases that rules carry; for authors of rule packs
    Prove(ProveArgs),
    /// Compute one figure from values; without a name, list the figures
    Compute(ComputeArgs),
    /// Print every figure of each gate of a submittal with its working
    Worksheet(WorksheetArgs),
    /// Print a schema, for an editor that completes and checks YAML
    Schema(SchemaArgs),
}

/// Which rules to load.
#[derive(Debug, Args, Clone)]
pub struct PackArgs {
    /// A folder or file with rule packs of your own, beside the shipped ones; or the name of a shipped pack that is
    /// not loaded by default. May be given several times
    #[arg(long = "packs", value_name = "PATH")]
    pub packs: Vec<PathBuf>,
    /// The project file [default: for each file, the gatewright.yaml nearest above it]
    #[arg(long, value_name = "FILE")]
    pub project: Option<PathBuf>,
}

/// Arguments of `review`.
#[derive(Debug, Args)]
pub struct ReviewArgs {
    /// Files, folders, or `-` for standard input
    #[arg(value_name = "PATH", default_value = ".")]
    pub paths: Vec<PathBuf>,
    /// The form of the report
    #[arg(long, value_enum, default_value_t = FormatArg::Terminal)]
    pub format: FormatArg,
    /// Write the report to a file instead of the screen
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// What the paper is for: at bid what is missing is a question and fails nothing, what is written and wrong is found
    /// as ever; acceptance asks what submittal asks, and more
    #[arg(long, value_enum)]
    pub stage: Option<StageArg>,
    /// The least weight of a finding, or of a rule that stays undecided, that makes the exit code 1; a gate that was not
    /// reviewed makes it 1 at every weight [default: requirement]
    #[arg(long, value_enum, value_name = "WEIGHT")]
    pub fail_on: Option<FailOnArg>,
    /// Which rules to load.
    #[command(flatten)]
    pub packs: PackArgs,
}

/// Arguments of `rules`.
#[derive(Debug, Args)]
pub struct RulesArgs {
    /// The form of the list
    #[arg(long, value_enum, default_value_t = RulesFormat::Text)]
    pub format: RulesFormat,
    /// Which rules to load.
    #[command(flatten)]
    pub packs: PackArgs,
}

/// Arguments of `explain`.
#[derive(Debug, Args)]
pub struct ExplainArgs {
    /// Name of the rule: guarding/open-leaf, or open-leaf where that is enough
    #[arg(value_name = "RULE")]
    pub rule: String,
    /// Which rules to load.
    #[command(flatten)]
    pub packs: PackArgs,
}

/// Arguments of `prove`.
#[derive(Debug, Args)]
pub struct ProveArgs {
    /// Names of packs [default: all that are loaded]
    #[arg(value_name = "PACK")]
    pub names: Vec<String>,
    /// Which rules to load.
    #[command(flatten)]
    pub packs: PackArgs,
}

/// Arguments of `compute`.
#[derive(Debug, Args)]
pub struct ComputeArgs {
    /// Name of the figure
    #[arg(value_name = "NAME")]
    pub name: Option<String>,
    /// Its inputs, each with its unit: height='4 ft'
    #[arg(value_name = "INPUT=VALUE")]
    pub values: Vec<String>,
    /// The form of the result
    #[arg(long, value_enum, default_value_t = ListFormat::Text)]
    pub format: ListFormat,
}

/// Arguments of `worksheet`.
#[derive(Debug, Args)]
pub struct WorksheetArgs {
    /// The submittal, or `-` for standard input
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// The form of the worksheet
    #[arg(long, value_enum, default_value_t = SheetFormatArg::Text)]
    pub format: SheetFormatArg,
    /// Write the worksheet to a file instead of the screen
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

/// The forms of a worksheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SheetFormatArg {
    /// For reading on a screen
    Text,
    /// For a page
    Markdown,
    /// For programs
    Json,
}

/// Arguments of `schema`.
#[derive(Debug, Args)]
pub struct SchemaArgs {
    /// Which schema
    #[arg(value_enum)]
    pub name: SchemaName,
}

/// The forms of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FormatArg {
    /// For reading on a screen
    Terminal,
    /// One line a finding: path:line:column
    Line,
    /// For programs; schema/report.schema.json describes it
    Json,
}

/// The forms of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ListFormat {
    /// For reading on a screen
    Text,
    /// For programs
    Json,
}

/// The forms of the list of rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum RulesFormat {
    /// For reading on a screen
    Text,
    /// For programs
    Json,
    /// The rule reference: a page with a section for each rule, its cases and an example finding
    Markdown,
}

/// Stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum StageArg {
    /// Before a bid
    Bid,
    /// Before steel is cut
    Submittal,
    /// Before the gate is handed over
    Acceptance,
}

/// Weights that fail a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FailOnArg {
    /// Hazards only
    Hazard,
    /// Hazards and requirements
    Requirement,
    /// Every finding
    Advice,
    /// Nothing: findings never make the exit code 1
    Never,
}

/// The schemas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SchemaName {
    /// Submittals
    Submittal,
    /// Rule packs
    RulePack,
    /// The project file
    Project,
    /// The JSON report
    Report,
    /// The JSON worksheet, and figures
    Worksheet,
}
