//! The words and the page of findings.
