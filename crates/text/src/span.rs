use std::fmt;

/// A stretch of a transcript, in UTF-8 bytes, end exclusive.
///
/// `start <= end` always holds. A span lies on character boundaries of the transcript it was made
/// for; [`crate::Transcript::words`] gives its words.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    start: u32,
    end: u32,
}

impl Span {
    /// Returns the span from `start` to `end`; the two are put in order.
    #[must_use]
    pub fn new(start: u32, end: u32) -> Self {
        Self { start: start.min(end), end: start.max(end) }
    }

    /// Returns the offset of the first byte.
    #[must_use]
    pub fn start(self) -> usize {
        self.start as usize
    }

    /// Returns the offset after the last byte.
    #[must_use]
    pub fn end(self) -> usize {
        self.end as usize
    }

    /// Returns the number of bytes.
    #[must_use]
    pub fn len(self) -> usize {
        (self.end - self.start) as usize
    }

    /// Returns true for a span that holds no bytes.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }

    /// Returns the smallest span that holds both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Returns true if the two share at least one byte.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.start < other.end && other.start < self.end
    }

    /// Returns true if `other` lies wholly inside.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        self.start <= other.start && other.end <= self.end
    }
}

impl fmt::Debug for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}..{}", self.start, self.end)
    }
}
