//! Lists as comma-separated values for a spreadsheet.

use lodewright_kit::spreadsheet_cell;

use crate::Analysis;
use crate::words::minutes;

/// Rows as text by RFC 4180: quotes where they are needed, lines end in CR LF. Numbers are written as they are.
fn csv(rows: &[Vec<String>]) -> String {
    let mut writer = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .flexible(true)
        .from_writer(Vec::new());
    for row in rows {
        // Writing to memory does not fail; a row that would is left out.
        let _ = writer.write_record(row.iter().map(|text| spreadsheet_cell(text)));
    }
    writer
        .into_inner()
        .ok()
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .unwrap_or_default()
}

fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.map(str::to_owned).to_vec()
}

/// An amount of money as a plain number with two digits behind the point.
fn money(cents: u64) -> String {
    format!("{}.{:02}", cents / 100, cents % 100)
}

impl Analysis {
    /// The shopping list.
    pub fn shopping_csv(&self) -> String {
        let price = format!("price ({})", self.plan().settings.currency);
        let mut rows = vec![row([
            "kind", "what", "used", "spares", "in hand", "buy", &price, "note",
        ])];
        for line in self.shopping() {
            rows.push(vec![
                line.kind.word().to_owned(),
                line.what,
                line.used.to_string(),
                line.spares.to_string(),
                line.in_hand.to_string(),
                line.buy,
                money(line.cents),
                line.note,
            ]);
        }
        csv(&rows)
    }

    /// The work order.
    pub fn work_csv(&self) -> String {
        let mut rows = vec![row([
            "no.",
            "step",
            "hands-on (min)",
            "then leave it",
            "point of no return",
            "done",
        ])];
        for (n, step) in self.order().steps.iter().enumerate() {
            let done = self.plan().progress.done.contains(&step.key);
            rows.push(vec![
                (n + 1).to_string(),
                self.step_words(n).map_or_else(String::new, |w| w.title),
                step.hands_min.to_string(),
                if step.wait_min > 0.0 {
                    minutes(step.wait_min)
                } else {
                    String::new()
                },
                if step.no_return { "yes" } else { "" }.to_owned(),
                if done { "yes" } else { "" }.to_owned(),
            ]);
        }
        csv(&rows)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_spreadsheet_would_run_is_made_text() {
        let text = csv(&[row(["=1+1", "5 × 2 mm"])]);
        assert_eq!(text, "'=1+1,5 × 2 mm\r\n");
    }

    #[test]
    fn quotes_follow_rfc_4180() {
        // RFC 4180, section 2, rules 5 to 7.
        let text = csv(&[row(["a,b", "say \"so\"", "two\nlines", "plain"])]);
        assert_eq!(text, "\"a,b\",\"say \"\"so\"\"\",\"two\nlines\",plain\r\n");
    }
}
