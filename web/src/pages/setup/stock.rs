//! Magnets, steel and bits: sizes, packs, what is in hand.

use lodewright_planner::bench::number_size_mm;
use lodewright_planner::kit::{Edit, MagnetStock, Pack, Plan, SteelStock, Stock, StockId, slug};
use tiny_sort::stable::sort_by;
use yew::prelude::*;

use super::card::CardProps;
use super::kit::whole;
use crate::components::{Disclosure, NumberField, TextField, Toggle};
use crate::format::{count, number, parse};
use crate::store::{Action, Edited, Notice, Store, use_store};

/// A commit callback that changes the stock.
fn stock<V: 'static>(store: &Store, change: impl Fn(&mut Stock, V) + 'static) -> Edited<V> {
    store.edited(move |plan: &Plan, value| {
        let mut stock = plan.stock.clone();
        change(&mut stock, value);
        Some(Edit::PutStock(Box::new(stock)))
    })
}

/// A size, magnet or steel alike.
trait Size {
    fn id(&self) -> &StockId;
    fn packs(&mut self) -> &mut Vec<Pack>;
    fn in_hand(&mut self) -> &mut u32;
    fn list(stock: &mut Stock) -> &mut Vec<Self>
    where
        Self: Sized;
}

impl Size for MagnetStock {
    fn id(&self) -> &StockId {
        &self.id
    }
    fn packs(&mut self) -> &mut Vec<Pack> {
        &mut self.packs
    }
    fn in_hand(&mut self) -> &mut u32 {
        &mut self.in_hand
    }
    fn list(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.magnets
    }
}

impl Size for SteelStock {
    fn id(&self) -> &StockId {
        &self.id
    }
    fn packs(&mut self) -> &mut Vec<Pack> {
        &mut self.packs
    }
    fn in_hand(&mut self) -> &mut u32 {
        &mut self.in_hand
    }
    fn list(stock: &mut Stock) -> &mut Vec<Self> {
        &mut stock.steel
    }
}

/// A commit callback that changes one size.
fn size<S: Size + 'static, V: 'static>(
    store: &Store,
    id: &StockId,
    change: impl Fn(&mut S, V) + 'static,
) -> Edited<V> {
    let id = id.clone();
    stock(store, move |stock, value| {
        if let Some(size) = S::list(stock).iter_mut().find(|s| *s.id() == id) {
            change(size, value);
        }
    })
}

/// A button whose refusal becomes a notice.
fn button(test: String, word: &'static str, store: &Store, run: Edited<()>) -> Html {
    let store = store.clone();
    let onclick = Callback::from(move |_: MouseEvent| {
        if let Err(said) = run.emit(()) {
            store.send(Action::Tell(Notice::refused(said)));
        }
    });
    html! { <button type="button" class="button is-small" data-test={test} {onclick}>{ word }</button> }
}

/// In hand, packs, removal: the same for magnets and steel.
fn common<S: Size + Clone + 'static>(plan: &Plan, store: &Store, of: &S) -> Html {
    let mut of = of.clone();
    let id = of.id().clone();
    let in_hand = f64::from(*of.in_hand());
    let packs = of.packs().clone();
    let pack = |(n, pack): (usize, &Pack)| {
        let words = format!("{id}-pack-{n}");
        html! {
            <div key={n} class="pack">
                <NumberField id={format!("{words}-count")} label="Pieces in a pack" unit="pcs" whole={true} value={f64::from(pack.count)} on_commit={pack_put::<S, _>(store, &id, n, |p, v| p.count = whole(v))} />
                <NumberField id={format!("{words}-price")} label="Price" unit={plan.settings.currency.clone()} value={f64::from(pack.price_cents) / 100.0} on_commit={pack_put::<S, _>(store, &id, n, |p, v| p.price_cents = whole(v * 100.0))} />
                { button(format!("{words}-drop"), "Remove", store, size::<S, ()>(store, &id, move |s, ()| if n < s.packs().len() { s.packs().remove(n); })) }
            </div>
        }
    };
    let gone = {
        let id = id.clone();
        stock(store, move |stock, ()| {
            S::list(stock).retain(|s| *s.id() != id)
        })
    };
    html! {
        <>
            <NumberField id={format!("{id}-in-hand")} label="In hand" unit="pcs" whole={true} step={Some(1.0)} value={in_hand} on_commit={size::<S, f64>(store, &id, |s, v| *s.in_hand() = whole(v))} />
            <div class="packs">{ for packs.iter().enumerate().map(pack) }</div>
            <div class="actions">
                { button(format!("{id}-add-pack"), "Add a pack", store, size::<S, ()>(store, &id, |s, ()| s.packs().push(Pack { count: 10, price_cents: 200 }))) }
                { button(format!("{id}-drop"), "Remove the size", store, gone) }
            </div>
        </>
    }
}

fn pack_put<S: Size + 'static, V: 'static>(
    store: &Store,
    id: &StockId,
    n: usize,
    change: fn(&mut Pack, V),
) -> Edited<V> {
    size::<S, V>(store, id, move |s, v| {
        if let Some(pack) = s.packs().get_mut(n) {
            change(pack, v);
        }
    })
}

fn hand_words(in_hand: u32, packs: &[Pack]) -> String {
    let packs = packs
        .iter()
        .map(|p| p.count.to_string())
        .collect::<Vec<_>>()
        .join(", ");
    let sold = if packs.is_empty() {
        "no packs".to_owned()
    } else {
        format!("packs of {packs}")
    };
    format!("{in_hand} in hand, {sold}")
}

fn fresh(word: &str, stock: &Stock) -> StockId {
    let taken: Vec<&str> = stock
        .magnets
        .iter()
        .map(|m| m.id.as_str())
        .chain(stock.steel.iter().map(|s| s.id.as_str()))
        .collect();
    StockId::new(slug(word, taken.into_iter()))
}

/// Disc magnets.
#[component]
pub fn MagnetCard(props: &CardProps) -> Html {
    let store = use_store();
    let add = stock(&store, |stock, ()| {
        let id = fresh("disc", stock);
        stock.magnets.push(MagnetStock {
            id,
            diameter_mm: 3.0,
            height_mm: 1.0,
            grade: "N42".to_owned(),
            br_by_hand_t: None,
            packs: Vec::new(),
            in_hand: 0,
        });
    });
    let fold = |m: &MagnetStock| {
        let id = |word: &str| format!("{}-{word}", m.id);
        html! {
            <Disclosure key={m.id.to_string()} id={id("fold")} title={format!("{} \u{d7} {} mm {}", number(m.diameter_mm), number(m.height_mm), m.grade)} summary={hand_words(m.in_hand, &m.packs)}>
                <div class="pair">
                    <NumberField id={id("diameter")} label="Diameter" unit="mm" value={m.diameter_mm} on_commit={size::<MagnetStock, f64>(&store, &m.id, |m, v| m.diameter_mm = v)} />
                    <NumberField id={id("height")} label="Height" unit="mm" value={m.height_mm} on_commit={size::<MagnetStock, f64>(&store, &m.id, |m, v| m.height_mm = v)} />
                    <TextField id={id("grade")} label="Grade" value={m.grade.clone()} on_commit={size::<MagnetStock, String>(&store, &m.id, |m, v| m.grade = v.trim().to_owned())} />
                </div>
                { common(&props.plan, &store, m) }
            </Disclosure>
        }
    };
    html! {
        <section class="card section" aria-label="Disc magnets">
            <h2>{ "Disc magnets" }</h2>
            <div>{ for props.plan.stock.magnets.iter().map(fold) }</div>
            <div>{ button("add-magnet".to_owned(), "Add a size", &store, add) }</div>
            <p class="field-hint">{ "Sizes that can be bought or are in hand; the planner chooses among these." }</p>
            <Toggle id="prices-invented" label="The prices of magnets and steel are invented" value={props.plan.stock.prices_invented} on_commit={stock(&store, |stock, on| stock.prices_invented = on)} hint="Lists and papers then say so. A new plan begins with invented ones." />
        </section>
    }
}

/// Steel discs.
#[component]
pub fn SteelCard(props: &CardProps) -> Html {
    let store = use_store();
    let add = stock(&store, |stock, ()| {
        let id = fresh("steel", stock);
        stock.steel.push(SteelStock {
            id,
            diameter_mm: 5.0,
            thickness_mm: 1.0,
            packs: Vec::new(),
            in_hand: 0,
        });
    });
    let fold = |s: &SteelStock| {
        let id = |word: &str| format!("{}-{word}", s.id);
        html! {
            <Disclosure key={s.id.to_string()} id={id("fold")} title={format!("{} \u{d7} {} mm", number(s.diameter_mm), number(s.thickness_mm))} summary={hand_words(s.in_hand, &s.packs)}>
                <div class="pair">
                    <NumberField id={id("diameter")} label="Diameter" unit="mm" value={s.diameter_mm} on_commit={size::<SteelStock, f64>(&store, &s.id, |s, v| s.diameter_mm = v)} />
                    <NumberField id={id("thickness")} label="Thickness" unit="mm" value={s.thickness_mm} on_commit={size::<SteelStock, f64>(&store, &s.id, |s, v| s.thickness_mm = v)} />
                </div>
                { common(&props.plan, &store, s) }
            </Disclosure>
        }
    };
    html! {
        <section class="card section" aria-label="Steel discs">
            <h2>{ "Steel discs" }</h2>
            <div>{ for props.plan.stock.steel.iter().map(fold) }</div>
            <div>{ button("add-steel".to_owned(), "Add a size", &store, add) }</div>
        </section>
    }
}

/// Bits at the desk.
#[component]
pub fn BitCard(props: &CardProps) -> Html {
    let store = use_store();
    let text = props
        .plan
        .stock
        .bits_mm
        .iter()
        .map(|b| number(*b))
        .collect::<Vec<_>>()
        .join("; ");
    let set = stock(&store, |stock, bits: Vec<f64>| stock.bits_mm = bits);
    let on_commit = Callback::from(move |text: String| set.emit(bits_of(&text)?));
    let flat = store.edited(|plan: &Plan, on| {
        let mut settings = plan.settings.clone();
        settings.flat_cutter = on;
        Some(Edit::PutSettings(Box::new(settings)))
    });
    let inches = store.edited(|plan: &Plan, on| {
        let mut settings = plan.settings.clone();
        settings.inches = on;
        Some(Edit::PutSettings(Box::new(settings)))
    });
    html! {
        <section class="card section" aria-label="Drill bits">
            <h2>{ "Drill bits at the desk" }</h2>
            <TextField id="bits" label="Diameters, mm" value={text} {on_commit} placeholder="any of the metric series"
                hint={format!("Semicolons between them; inches as 1/8\", number sizes as #52. {}", match props.plan.stock.bits_mm.len() { 0 => "None named: any bit of the metric series.".to_owned(), n => count(n, "bit", "bits") })} />
            <Toggle id="bits-inches" label="Say drill sizes in inches too" value={props.plan.settings.inches} on_commit={inches} />
            <Toggle id="bits-flat" label="I finish holes with a flat-bottomed cutter" value={props.plan.settings.flat_cutter} on_commit={flat} hint="Without one the point of the drill counts, which goes a third of its diameter deeper." />
        </section>
    }
}

/// Bits from text, smallest first: millimetres, inches (`1/8"`, `1/16 in`) and number sizes (`#52`).
fn bits_of(text: &str) -> Result<Vec<f64>, AttrValue> {
    let mut bits = Vec::new();
    for entry in text
        .split([';', '\n'])
        .map(str::trim)
        .filter(|e| !e.is_empty())
    {
        // One bit with spaces in its name, else several with spaces between them.
        match bit(entry) {
            Ok(mm) => bits.push(mm),
            Err(_) => {
                for word in entry.split_whitespace() {
                    bits.push(bit(word)?);
                }
            }
        }
    }
    sort_by(&mut bits, f64::total_cmp);
    bits.dedup();
    Ok(bits)
}

fn bit(text: &str) -> Result<f64, AttrValue> {
    match text.strip_prefix('#') {
        Some(number) => number
            .trim()
            .parse()
            .ok()
            .and_then(number_size_mm)
            .ok_or_else(|| {
                format!("\u{201c}{text}\u{201d} is no number size: they run from #1 to #80.").into()
            }),
        None => Ok(parse(text, "mm")?),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_are_read_sorted_and_without_doubles() {
        assert_eq!(bits_of("3,1; 2 2.05;2"), Ok(vec![2.0, 2.05, 3.1]));
        assert_eq!(bits_of("  "), Ok(Vec::new()));
        assert!(bits_of("2; wide").is_err());
        assert_eq!(
            bits_of("1/8\"; 1/16 in; 3 2"),
            Ok(vec![1.5875, 2.0, 3.0, 3.175])
        );
        // No. 60 is 0.0400 inch (ASME B94.11M, from memory).
        assert_eq!(bits_of("#60"), Ok(vec![0.04 * 25.4]));
        assert!(bits_of("#81").is_err());
    }

    #[test]
    fn sizes_are_summed_up_in_words() {
        let packs = [
            Pack {
                count: 10,
                price_cents: 1,
            },
            Pack {
                count: 50,
                price_cents: 2,
            },
        ];
        assert_eq!(hand_words(4, &packs), "4 in hand, packs of 10, 50");
        assert_eq!(hand_words(0, &[]), "0 in hand, no packs");
    }
}
