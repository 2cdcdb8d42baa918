//! Arguments in, exit code out.

fn main() -> std::process::ExitCode {
    gatewright::cli::run()
}
