//! Where the reader is: a page, a plan and a place on the page, kept in the address behind `#`.

use yew::AttrValue;

/// The pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Page {
    /// All plans in this browser.
    Plans,
    /// Sockets down, variants across.
    Grid,
    /// The drawing.
    Sketch,
    /// Parts and sockets in detail.
    Parts,
    /// What is glued, what stays separable, and how it holds.
    Joints,
    /// Which magnets where, and with which pole out.
    Magnets,
    /// The work, step by step.
    Bench,
    /// From one variant to another.
    Swap,
    /// Two plans side by side.
    Compare,
    /// Sheets for paper.
    Print,
    /// Stock, coats, targets, rates.
    Setup,
    /// How the numbers are made; about no plan.
    How,
    /// An address that leads nowhere.
    Lost,
}

impl Page {
    /// The pages of an open plan, in the order of the navigation.
    pub const OF_A_PLAN: [Self; 10] = [
        Self::Grid,
        Self::Sketch,
        Self::Parts,
        Self::Joints,
        Self::Magnets,
        Self::Bench,
        Self::Swap,
        Self::Compare,
        Self::Print,
        Self::Setup,
    ];

    /// Its heading and its word in the navigation.
    pub fn title(self) -> &'static str {
        match self {
            Self::Plans => "Plans",
            Self::Grid => "Grid",
            Self::Sketch => "Sketch",
            Self::Parts => "Parts",
            Self::Joints => "Joints",
            Self::Magnets => "Magnets",
            Self::Bench => "Bench",
            Self::Swap => "Swap",
            Self::Compare => "Compare",
            Self::Print => "Print",
            Self::Setup => "Setup",
            Self::How => "How the numbers are made",
            Self::Lost => "No such page",
        }
    }

    /// Its word in the address, and in test marks.
    pub fn word(self) -> &'static str {
        match self {
            Self::Plans => "plans",
            Self::Grid => "grid",
            Self::Sketch => "sketch",
            Self::Parts => "parts",
            Self::Joints => "joints",
            Self::Magnets => "magnets",
            Self::Bench => "bench",
            Self::Swap => "swap",
            Self::Compare => "compare",
            Self::Print => "print",
            Self::Setup => "setup",
            Self::How => "how",
            Self::Lost => "lost",
        }
    }
}

/// A page, the plan it is about, and what is picked out on it; on the page of all plans, the plan that a link carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// The page.
    pub page: Page,
    /// The plan's key; none on the page of all plans.
    pub plan: Option<AttrValue>,
    /// What is picked out, such as `socket/nose`; each page reads its own.
    pub rest: AttrValue,
}

impl Route {
    /// All plans.
    pub fn plans() -> Self {
        Self {
            page: Page::Plans,
            plan: None,
            rest: AttrValue::default(),
        }
    }

    /// How the numbers are made, at a subject.
    pub fn how(subject: &str) -> Self {
        Self {
            page: Page::How,
            rest: AttrValue::from(subject.to_owned()),
            ..Self::plans()
        }
    }

    /// A page of a plan.
    pub fn of(page: Page, plan: &AttrValue) -> Self {
        Self::at(page, plan, "")
    }

    /// A page of a plan with something picked out.
    pub fn at(page: Page, plan: &AttrValue, rest: &str) -> Self {
        Self {
            page,
            plan: Some(plan.clone()),
            rest: AttrValue::from(rest.to_owned()),
        }
    }

    /// Reads what stands behind `#`.
    pub fn read(hash: &str) -> Self {
        let path = hash.trim_start_matches('#').trim_matches('/');
        if path.is_empty() {
            return Self::plans();
        }
        let lost = Self {
            page: Page::Lost,
            ..Self::plans()
        };
        if let Some(packed) = path.strip_prefix("take/") {
            return Self {
                rest: AttrValue::from(packed.to_owned()),
                ..Self::plans()
            };
        }
        if path == "how" || path.starts_with("how/") {
            return Self::how(path.get(4..).unwrap_or_default());
        }
        let Some(path) = path.strip_prefix("plan/") else {
            return lost;
        };
        let mut words = path.splitn(3, '/');
        let plan = AttrValue::from(words.next().unwrap_or_default().to_owned());
        let word = words.next().unwrap_or("grid");
        match Page::OF_A_PLAN.into_iter().find(|p| p.word() == word) {
            Some(page) => Self::at(page, &plan, words.next().unwrap_or_default()),
            None => lost,
        }
    }

    /// The address, beginning with `#`.
    pub fn href(&self) -> String {
        match &self.plan {
            None if self.page == Page::How => match self.rest.as_str() {
                "" => "#/how".to_owned(),
                subject => format!("#/how/{subject}"),
            },
            None if self.rest.is_empty() => "#/".to_owned(),
            None => format!("#/take/{}", self.rest),
            Some(plan) if self.rest.is_empty() => format!("#/plan/{plan}/{}", self.page.word()),
            Some(plan) => format!("#/plan/{plan}/{}/{}", self.page.word(), self.rest),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses_are_read_as_written() {
        let plan = AttrValue::from("railcar");
        for route in [
            Route::plans(),
            Route {
                rest: AttrValue::from("eNr-_0"),
                ..Route::plans()
            },
            Route::how(""),
            Route::how("hold"),
            Route::of(Page::Bench, &plan),
            Route::at(Page::Parts, &plan, "socket/nose"),
        ] {
            assert_eq!(Route::read(&route.href()), route);
        }
    }

    #[test]
    fn short_and_wrong_addresses() {
        assert_eq!(Route::read(""), Route::plans());
        assert_eq!(Route::read("#/plan/x").page, Page::Grid);
        assert_eq!(Route::read("#/plan/x/nowhere").page, Page::Lost);
        assert_eq!(Route::read("#/other").page, Page::Lost);
    }
}
