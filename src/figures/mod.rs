//! Figures: computed quantities such as a reaction, a wind force or an embedment.
//!
//! No figure is registered yet; the rules that stand so far need plain arithmetic on declared lengths only, which the
//! rule language does itself. A path that begins with `figure` is refused when a pack loads.
