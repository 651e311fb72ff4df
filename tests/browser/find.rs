//! How a test says which element it means: by the name that a screen reader speaks, or by a CSS selector.

use crate::driver::Driver;
use serde_json::{Value, json};
use std::fmt;

/// An element to be found.
#[derive(Clone, Debug)]
pub struct Find {
    what: What,
    /// CSS selector of the place to look in.
    within: Option<String>,
}

#[derive(Clone, Debug)]
enum What {
    Named { role: Option<String>, name: String },
    Css(String),
}

/// Roles of things that one uses; text and groups of the same name stand back behind them.
const CONTROLS: [&str; 16] = [
    "button",
    "link",
    "textbox",
    "searchbox",
    "combobox",
    "listbox",
    "option",
    "checkbox",
    "radio",
    "switch",
    "slider",
    "spinbutton",
    "tab",
    "menuitem",
    "DisclosureTriangle",
    "gridcell",
];
/// Pieces of text inside other elements of the same name.
const PIECES: [&str; 5] = [
    "StaticText",
    "InlineTextBox",
    "LabelText",
    "none",
    "generic",
];

/// The element with this accessible name; a plain text given to the desk means the same.
pub fn named(name: &str) -> Find {
    Find {
        what: What::Named {
            role: None,
            name: name.into(),
        },
        within: None,
    }
}

/// The element with this ARIA role and accessible name.
pub fn role(role: &str, name: &str) -> Find {
    Find {
        what: What::Named {
            role: Some(role.into()),
            name: name.into(),
        },
        within: None,
    }
}

/// The first element that the CSS selector matches.
pub fn css(selector: &str) -> Find {
    Find {
        what: What::Css(selector.into()),
        within: None,
    }
}

impl Find {
    /// Looks only inside the first element that the CSS selector matches.
    pub fn within(self, selector: &str) -> Find {
        Find {
            within: Some(selector.into()),
            ..self
        }
    }

    /// The browser's handle of the element; `Ok(None)` while it is not there, an error while several would do.
    pub fn locate(&self, driver: &Driver) -> Result<Option<String>, String> {
        let place = match &self.within {
            Some(selector) => format!("document.querySelector({})", json!(selector)),
            None => "document".to_owned(),
        };
        match &self.what {
            What::Css(selector) => {
                Ok(driver.object(&format!("{place}?.querySelector({})", json!(selector))))
            }
            What::Named { role, name } => match driver.object(&place) {
                Some(place) => by_name(driver, &place, role.as_deref(), name),
                None => Ok(None),
            },
        }
    }
}

fn by_name(
    driver: &Driver,
    place: &str,
    role: Option<&str>,
    name: &str,
) -> Result<Option<String>, String> {
    let mut query = json!({ "objectId": place, "accessibleName": name });
    if let Some(role) = role {
        query["role"] = json!(role);
    }
    let answer = driver.devtools("Accessibility.queryAXTree", query);
    let nodes: Vec<&Value> = answer["nodes"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|node| node["ignored"] == false)
        .collect();
    let of = |roles: &[&str], wanted: bool| -> Vec<&Value> {
        nodes
            .iter()
            .copied()
            .filter(|node| {
                node["role"]["value"]
                    .as_str()
                    .is_some_and(|role| roles.contains(&role) == wanted)
            })
            .collect()
    };
    let controls = of(&CONTROLS, true);
    let candidates = if controls.is_empty() {
        of(&PIECES, false)
    } else {
        controls
    };
    match candidates.as_slice() {
        [] => Ok(None),
        [one] => Ok(driver.object_of_node(&one["backendDOMNodeId"])),
        several => {
            let roles: Vec<&str> = several
                .iter()
                .filter_map(|node| node["role"]["value"].as_str())
                .collect();
            Err(format!(
                "{} elements are named {name:?} ({}): give a role or a place",
                several.len(),
                roles.join(", ")
            ))
        }
    }
}

impl From<&str> for Find {
    fn from(name: &str) -> Find {
        named(name)
    }
}

impl fmt::Display for Find {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.what {
            What::Named {
                role: Some(role),
                name,
            } => write!(f, "the {role} named {name:?}")?,
            What::Named { role: None, name } => write!(f, "the element named {name:?}")?,
            What::Css(selector) => write!(f, "the element {selector}")?,
        }
        match &self.within {
            Some(place) => write!(f, " in {place}"),
            None => Ok(()),
        }
    }
}
