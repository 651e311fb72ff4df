//! Which entry of a JSON text stands at a place in it: the reader of entries tells line and column of a fault, the builder
//! looks for a name. Tracking the way while reading would double the code of every type's reader.

use super::bounds::{Step, spelled};

/// The way to the entry on which a reading stopped, such as `plan.parts[3].size_mm`. `line` counts from 1, `column` is the
/// number of bytes of that line that were read. The text must be sound JSON up to there.
pub(crate) fn path_at(text: &str, line: usize, column: usize, message: &str) -> String {
    let (mut way, end) = Way::to(text, line, column);
    // A name that is not known is what is wrong; else it is what the name belongs to.
    if way.on_name && !message.starts_with("unknown field") {
        way.steps.pop();
    }
    // A list where a word or a named entry belongs is left at once, before its first entry.
    if message.starts_with("expected value") && text.as_bytes()[..end].ends_with(b"[") {
        way.steps.pop();
    }
    spelled(&way.steps)
}

/// How many lists and objects are open at a place.
pub(crate) fn depth_at(text: &str, line: usize, column: usize) -> usize {
    Way::to(text, line, column).0.open.len()
}

#[derive(Default)]
struct Way<'a> {
    steps: Vec<Step<'a>>,
    /// For each list or object that is open, the number of steps that lead to it and whether it is a list.
    open: Vec<(usize, bool)>,
    /// Whether the next text is the name of an entry.
    name_next: bool,
    /// Whether the last that was read is a name whose entry has not begun.
    on_name: bool,
}

impl<'a> Way<'a> {
    /// The way to a line and column, and the number of bytes up to there.
    fn to(text: &'a str, line: usize, column: usize) -> (Self, usize) {
        let lines = text.split_inclusive('\n').take(line.saturating_sub(1));
        let begin: usize = lines.map(str::len).sum();
        let end = begin.saturating_add(column).min(text.len());
        let mut way = Self::default();
        way.walk(text, end);
        (way, end)
    }

    fn walk(&mut self, text: &'a str, end: usize) {
        let bytes = text.as_bytes();
        let mut at = 0;
        while at < end {
            match bytes[at] {
                b'{' | b'[' => {
                    let list = bytes[at] == b'[';
                    self.open.push((self.steps.len(), list));
                    if list {
                        self.steps.push(Step::Index(0));
                    }
                    (self.name_next, self.on_name) = (!list, false);
                }
                b'}' | b']' => {
                    if let Some((depth, _)) = self.open.pop() {
                        self.steps.truncate(depth);
                    }
                    (self.name_next, self.on_name) = (false, false);
                }
                b',' => self.comma(),
                b':' => self.on_name = false,
                b'"' => {
                    let length = string(&bytes[at + 1..]);
                    if self.name_next {
                        let name = text.get(at + 1..at + 1 + length).unwrap_or_default();
                        self.name(name);
                    }
                    at += length + 1;
                }
                _ => {}
            }
            at += 1;
        }
    }

    fn comma(&mut self) {
        let Some(&(depth, list)) = self.open.last() else {
            return;
        };
        self.steps.truncate(depth + 1);
        if let Some(Step::Index(i)) = self.steps.last_mut() {
            *i += 1;
        }
        self.name_next = !list;
    }

    fn name(&mut self, name: &'a str) {
        let depth = self.open.last().map_or(0, |(depth, _)| *depth);
        self.steps.truncate(depth);
        self.steps.push(Step::Name(name));
        (self.name_next, self.on_name) = (false, true);
    }
}

/// Bytes up to the quotation mark that ends a string.
fn string(rest: &[u8]) -> usize {
    let mut at = 0;
    while at < rest.len() && rest[at] != b'"' {
        at += if rest[at] == b'\\' { 2 } else { 1 };
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    fn at(text: &str, column: usize) -> String {
        path_at(text, 1, column, "")
    }

    #[test]
    fn the_way_to_each_value_is_the_way_by_which_it_is_found() {
        let text =
            r#"{"a": [1, {"b\"]": "x,y", "c": [[], [true, -2.5]]}, "[{"], "d": {}, "e": null}"#;
        let file: Value = serde_json::from_str(text).unwrap();
        for (marked, path, pointer) in [
            ("1", "a[0]", "/a/0"),
            ("\"x,y\"", "a[1].b\\\"]", "/a/1/b\"]"),
            ("[]", "a[1].c[0]", "/a/1/c/0"),
            ("true", "a[1].c[1][0]", "/a/1/c/1/0"),
            ("-2.5", "a[1].c[1][1]", "/a/1/c/1/1"),
            ("\"[{\"", "a[2]", "/a/2"),
            ("{}", "d", "/d"),
            ("null", "e", "/e"),
        ] {
            let end = text.find(marked).unwrap() + marked.len();
            assert_eq!(at(text, end), path, "{marked}");
            let found: Value = serde_json::from_str(marked).unwrap();
            assert_eq!(file.pointer(pointer), Some(&found), "{marked}");
        }
    }

    #[test]
    fn the_end_of_a_list_or_object_is_the_whole() {
        let text = r#"{"a": [1, {"b": 2}]}"#;
        assert_eq!(at(text, 18), "a[1]");
        assert_eq!(at(text, 19), "a");
        assert_eq!(at(text, 20), "");
        // And so is the beginning of an object.
        assert_eq!(at(text, 11), "a[1]");
    }

    #[test]
    fn a_name_is_named_only_where_it_is_not_known() {
        let text = "{\"a\":\n {\"b\": 2}}";
        assert_eq!(path_at(text, 2, 5, "unknown field `b`"), "a.b");
        assert_eq!(path_at(text, 2, 5, "duplicate field `b`"), "a");
        assert_eq!(path_at(text, 9, 99, ""), "");
    }
}
