//! What people read: every sentence that an answer says, apart from what makes it true.

pub(crate) mod track;
