//! Exit codes, in one place. The README prints this table; a test compares.

use std::process::ExitCode;

/// How a run ended. Where several apply, the one that `first_of` names wins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exit {
    /// Nothing that fails.
    Clean = 0,
    /// A finding at or above `--fail-on`, or a case that is not as expected.
    Findings = 1,
    /// The command line or the project file is wrong, or the result could not be written.
    Usage = 2,
    /// No file was named and none was found.
    Nothing = 3,
    /// A named path or a submittal could not be read.
    Unreadable = 4,
    /// A rule pack is invalid.
    Pack = 5,
}

impl Exit {
    /// The process's exit code.
    pub fn code(self) -> ExitCode {
        ExitCode::from(self as u8)
    }

    /// The exit that counts where two apply: 2, 5, 3, 4, 1, 0.
    pub fn first_of(self, other: Exit) -> Exit {
        let rank = |exit: Exit| match exit {
            Exit::Usage => 0,
            Exit::Pack => 1,
            Exit::Nothing => 2,
            Exit::Unreadable => 3,
            Exit::Findings => 4,
            Exit::Clean => 5,
        };
        if rank(self) <= rank(other) { self } else { other }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_failure_outweighs_findings_and_a_bad_pack_outweighs_both() {
        assert_eq!(Exit::Findings.first_of(Exit::Unreadable), Exit::Unreadable);
        assert_eq!(Exit::Unreadable.first_of(Exit::Pack), Exit::Pack);
        assert_eq!(Exit::Pack.first_of(Exit::Usage), Exit::Usage);
        assert_eq!(Exit::Clean.first_of(Exit::Findings), Exit::Findings);
        assert_eq!(Exit::Unreadable.first_of(Exit::Nothing), Exit::Nothing);
    }
}
