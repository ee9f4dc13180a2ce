//! Why a log as a whole cannot be read, or cannot be read any further.

use std::error::Error;
use std::{fmt, io};

/// A log that cannot be read (any further): which, where, why, and how to mend it.
///
/// The kind is part of the text; the source is what lies below the kind, so that a printed chain says nothing twice.
#[derive(Debug)]
#[non_exhaustive]
pub struct ReadLogError {
    /// The name that the caller gave the log.
    pub name: String,
    /// Line of the unpacked log, counted from 1.
    pub line: u64,
    /// Byte from the start of the unpacked log, counted from 0.
    pub byte: u64,
    /// Why.
    pub kind: ReadLogErrorKind,
}

impl fmt::Display for ReadLogError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, line {}, byte {}: {}", self.name, self.line, self.byte, self.kind)
    }
}

impl Error for ReadLogError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.kind.source()
    }
}

/// Why a log cannot be read (any further).
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum ReadLogErrorKind {
    /// The input itself failed.
    #[error("the input could not be read; copy the file from the device again")]
    Unreadable(#[source] io::Error),
    /// There is nothing in it.
    #[error("the log is empty; give a GPX, NMEA 0183 or CSV log")]
    Empty,
    /// It is none of the formats.
    #[error(
        "this is not a GPX log (which begins with <gpx), nor NMEA 0183 (lines begin with $), nor CSV (header lat,lon,time); it begins with {begins}"
    )]
    UnknownFormat {
        /// The first characters.
        begins: String,
    },
    /// It is packed in a way that is not unpacked here.
    #[error("the log is compressed as {form}; decompress it first")]
    Packed {
        /// How it is packed.
        form: &'static str,
    },
    /// The gzip stream is damaged.
    #[error("the gzip data are damaged or cut short ({problem}); copy the file again")]
    Gzip {
        /// What the unpacker says.
        problem: String,
    },
    /// It is longer than the caller allows.
    #[error("the log is longer than {limit} bytes when decompressed, the most that is read; split it")]
    TooLarge {
        /// The limit in bytes.
        limit: u64,
    },
    /// It is no well-formed XML.
    #[error("the XML is broken: {problem}; export the track again, or repair this place in a text editor")]
    Xml {
        /// What is wrong.
        problem: String,
    },
    /// It ends too early.
    #[error(
        "the file ends inside <{element}>, so it was cut short; copy it again, or close the open elements by hand"
    )]
    CutOff {
        /// The innermost open element.
        element: String,
    },
    /// It declares entities.
    #[error(
        "the DOCTYPE declares entities, which can grow without limit, so none are read; delete the DOCTYPE"
    )]
    Doctype,
    /// It uses an entity that XML does not define.
    #[error("the entity &{entity}; is not defined in XML; write the character itself")]
    UndefinedEntity {
        /// The name of the entity.
        entity: String,
    },
    /// Elements are nested too deeply.
    #[error("elements are nested deeper than {limit} levels; a GPX file needs about ten")]
    TooDeep {
        /// The limit.
        limit: usize,
    },
    /// One tag, comment or text is too long.
    #[error("one tag, comment or text is longer than {limit} bytes; shorten it")]
    TooLong {
        /// The limit in bytes.
        limit: u64,
    },
    /// The XML is something else.
    #[error("the outermost element is <{root}>, not <gpx>; export the track as GPX")]
    NotGpx {
        /// The name of the outermost element.
        root: String,
    },
    /// The characters are not UTF-8.
    #[error("{problem}; save the file as UTF-8")]
    Encoding {
        /// What is wrong.
        problem: String,
    },
    /// The first line of a table cannot be used.
    #[error("{problem}; the header has to name the columns, as in lat,lon,time,accuracy_m")]
    Header {
        /// What is wrong.
        problem: String,
    },
}

impl ReadLogErrorKind {
    /// Returns the name of the fault in machine-readable output; names are added, never changed.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Unreadable(_) => "unreadable",
            Self::Empty => "empty",
            Self::UnknownFormat { .. } => "unknown-format",
            Self::Packed { .. } => "packed",
            Self::Gzip { .. } => "gzip-damaged",
            Self::TooLarge { .. } => "too-large",
            Self::Xml { .. } => "xml-broken",
            Self::CutOff { .. } => "cut-off",
            Self::Doctype => "doctype",
            Self::UndefinedEntity { .. } => "undefined-entity",
            Self::TooDeep { .. } => "too-deep",
            Self::TooLong { .. } => "too-long",
            Self::NotGpx { .. } => "not-gpx",
            Self::Encoding { .. } => "encoding",
            Self::Header { .. } => "header",
        }
    }
}
