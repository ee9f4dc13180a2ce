//! Takeline answers as text and JSON.
