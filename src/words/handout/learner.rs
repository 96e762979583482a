//! The learner's sheet: complaint, wiring, pins, instruments, cautions, and room to write. It is made without a look at
//! the pool, so that nothing of the answer can be in it.

use std::fmt::Write;

use super::{NEVER, of_jobs, table, trial_title};
use crate::bench::{Caution, Tool};
use crate::diagram::Diagram;
use crate::scenario::Scenario;
use crate::vehicle::{
    Conditions, Conductor, Connector, ConnectorId, End, Half, Mate, Part, PartKind, Side, Vehicle,
};
use crate::words::guide::{end, reach_text};
use crate::words::html::{escaped, head};
use crate::words::{
    Texts, caution, diagram_names, diagram_svg, instruments, limits, tool_title, write_up_title,
};

/// Empty lines to write readings on.
const READINGS: usize = 10;

/// The sheet of a scenario for its learners.
#[must_use]
pub fn sheet(scenario: &Scenario) -> String {
    let vehicle = &scenario.vehicle;
    let mut page = head(scenario.title.written());
    write!(
        page,
        "\n<h1>{}</h1><p>{}</p>\n<p class=\"quote\">\u{201c}{}\u{201d}</p>\n",
        escaped(scenario.title.written()),
        escaped(vehicle.title.written()),
        escaped(scenario.customer.written())
    )
    .expect(NEVER);
    for limit in limits(Texts::english(), scenario) {
        writeln!(page, "<p>{}</p>", escaped(&limit)).expect(NEVER);
    }
    if let Some(begun) = of_jobs(scenario) {
        writeln!(
            page,
            "<p>This sheet is of jobs begun with <code>{begun}</code>; in others cavities, colours and words differ.</p>"
        )
        .expect(NEVER);
    }
    complaint(&mut page, scenario);
    cautions(&mut page);
    kit(&mut page);
    write_up(&mut page);
    write!(
        page,
        "<section class=\"wide\"><h2>Wiring diagram</h2>\n{}</section>\n",
        diagram_svg(vehicle, &Diagram::of(vehicle, &diagram_names(Texts::english())))
    )
    .expect(NEVER);
    page.push_str("<section><h2>Connectors</h2>\n<p>Colours by IEC 60757, cross-sections in mm². A wire's end is a cavity such as latch.3, a splice, an eyelet, a fuse's side, or the body.</p>\n");
    for at in 0..vehicle.connectors.len() {
        connector(&mut page, vehicle, ConnectorId::at(at));
    }
    page.push_str("</section>\n<section><h2>Fuses and grounds</h2>\n");
    let fuses = vehicle.fuses.iter().enumerate().map(|(at, fuse)| {
        let fed = |side: Side| -> String {
            let hangs = vehicle.conductors.iter().filter(|one| {
                let is = |end: End| matches!(end, End::Fuse(id, on) if id.index() == at && on == side);
                is(one.from) || is(one.to)
            });
            hangs.map(|one| format!("{} {}", one.title.written(), one.colour)).collect::<Vec<_>>().join(", ")
        };
        vec![
            fuse.id.clone(),
            fuse.title.written().to_owned(),
            format!("{} A", fuse.rating_amps),
            fed(Side::Load),
            reach_text(Texts::english(), vehicle, fuse.reach),
        ]
    });
    table(&mut page, &["fuse", "what it is", "rating", "feeds", "where"], fuses);
    let studs = vehicle.studs.iter().enumerate().map(|(at, stud)| {
        let on = vehicle.conductors.iter().filter(|one| {
            let is =
                |end: End| matches!(end, End::Eyelet(id) if vehicle.eyelets[id.index()].stud.index() == at);
            is(one.from) || is(one.to)
        });
        let on: Vec<String> = on.map(|one| format!("{} {}", one.title.written(), one.colour)).collect();
        vec![
            stud.id.clone(),
            stud.title.written().to_owned(),
            on.join(", "),
            reach_text(Texts::english(), vehicle, stud.reach),
        ]
    });
    table(&mut page, &["stud", "what it is", "on it", "where"], studs);
    page.push_str("</section>\n</body></html>\n");
    page
}

fn complaint(page: &mut String, scenario: &Scenario) {
    page.push_str("<section class=\"whole\"><h2>The complaint</h2>\n<p>It shows when</p>\n<ul>");
    for trial in &scenario.trials {
        write!(page, "<li>{}</li>", escaped(&trial_title(scenario, trial))).expect(NEVER);
    }
    page.push_str("</ul>\n");
    let Conditions { locked, celsius, wet } = scenario.conditions;
    let stands = [
        format!("{celsius} °C in the yard"),
        (if locked { "locked" } else { "unlocked" }).to_owned(),
        (if wet { "its rear is wet" } else { "dry" }).to_owned(),
    ];
    writeln!(page, "<p>As it comes in: {}.</p></section>", stands.join(", ")).expect(NEVER);
}

fn cautions(page: &mut String) {
    page.push_str("<section class=\"whole\"><h2>Before you touch the vehicle</h2>\n<ul>");
    for one in Caution::ALL {
        write!(page, "<li>{}</li>", escaped(caution(Texts::english(), one))).expect(NEVER);
    }
    page.push_str("</ul></section>\n");
}

fn kit(page: &mut String) {
    let t = Texts::english();
    writeln!(page, "<section><h2>Instruments</h2>\n<p>{}</p>", escaped(instruments::meter(t))).expect(NEVER);
    let settings = instruments::settings(t);
    let rows = settings.into_iter().map(|(title, about, off)| vec![title.to_owned(), about.to_owned(), off]);
    table(page, &["setting", "what it is", "off by up to"], rows);
    for lines in instruments::notes(t) {
        writeln!(page, "<p>{}</p>", escaped(&lines.replace('\n', " "))).expect(NEVER);
    }
    let tools: Vec<&str> = Tool::ALL.into_iter().map(|tool| tool_title(t, tool)).collect();
    writeln!(page, "<p>Also on the trolley: {}.</p></section>", escaped(&tools.join(", "))).expect(NEVER);
}

fn write_up(page: &mut String) {
    use crate::bench::WriteUpLine;
    page.push_str("<section class=\"whole\"><h2>What I did</h2>\n<div class=\"lines\">");
    let empty = || vec![String::new(); 4];
    table(
        page,
        &["test, and where", "what I expect", "what it shows", "what that tells"],
        (0..READINGS).map(|_| empty()),
    );
    let lines = [WriteUpLine::Complaint, WriteUpLine::Cause, WriteUpLine::Correction];
    table(
        page,
        &["write-up", "in a sentence", "reading"],
        lines.into_iter().map(|line| {
            vec![write_up_title(Texts::english(), line).to_owned(), String::new(), String::new()]
        }),
    );
    page.push_str("</div></section>\n");
}

/// A connector: where it is, and what is in each of its cavities.
fn connector(page: &mut String, vehicle: &Vehicle, id: ConnectorId) {
    let file: &Connector = vehicle.connector(id);
    writeln!(
        page,
        "<section class=\"whole\"><h3>{} <code>{}</code></h3>\n<p>{} cavities; {}</p>",
        escaped(file.title.written()),
        escaped(&file.id),
        file.cavities,
        escaped(&reach_text(Texts::english(), vehicle, file.reach))
    )
    .expect(NEVER);
    let wire = |half: Half, cavity: u8| -> Vec<String> {
        let Some(conductor) = vehicle.conductor_in(id, half, cavity) else { return vec![String::new(); 4] };
        let conductor = vehicle.conductor(conductor);
        vec![
            conductor.title.written().to_owned(),
            conductor.colour.clone(),
            conductor.square_millimetres.to_string(),
            end(Texts::english(), vehicle, far(conductor, End::Cavity(id, half, cavity))),
        ]
    };
    let number = |cavity: u8| vec![cavity.to_string()];
    if file.mate == Mate::Loom {
        let rows = (1..=file.cavities).map(|cavity| {
            let [one, other] = [Half::Loom, Half::Mate].map(|half| wire(half, cavity));
            [number(cavity), one, other].concat()
        });
        let (loom, mate) = (format!("wire in {}", file.id), format!("wire in {}", file.mate_id));
        let head = ["cavity", &loom, "colour", "mm²", "goes to", &mate, "colour", "mm²", "goes to"];
        table(page, &head, rows);
    } else {
        let rows = (1..=file.cavities).map(|cavity| {
            let parts = vehicle.parts.iter().filter(|part| part.connector == id);
            let pins: Vec<String> = parts.filter_map(|part| pin(part, cavity)).collect();
            [number(cavity), wire(Half::Loom, cavity), vec![pins.join(", ")]].concat()
        });
        table(page, &["cavity", "wire", "colour", "mm²", "goes to", "pin of the part"], rows);
    }
    page.push_str("</section>\n");
}

/// The other end of a conductor.
fn far(conductor: &Conductor, near: End) -> End {
    if conductor.from == near { conductor.to } else { conductor.from }
}

/// What a pin of a part is, if the part has one there.
fn pin(part: &Part, cavity: u8) -> Option<String> {
    let title = part.title.written();
    let two = |(one, other): (u8, u8), names: [&str; 2]| {
        let at = [one, other].into_iter().position(|pin| pin == cavity)?;
        Some(format!("{title}{}", names[at]))
    };
    match &part.kind {
        PartKind::Lamp { pins, .. }
        | PartKind::Switch { pins, .. }
        | PartKind::Resistor { pins, .. }
        | PartKind::Motor { pins, .. } => two(*pins, ["", ""]),
        PartKind::Led(led) => two(led.pins, [" +", " −"]),
        PartKind::Diode { pins } => two(*pins, [", anode", ", cathode"]),
        PartKind::Screen(screen) => two((screen.feed, screen.ground), [", fed bar", ", ground bar"]),
        PartKind::Relay(relay) => {
            let named = [
                (Some(relay.coil.0), "coil (86)"),
                (Some(relay.coil.1), "coil (85)"),
                (Some(relay.common), "common (30)"),
                (relay.normally_open, "working contact (87)"),
                (relay.normally_closed, "resting contact (87a)"),
            ];
            named
                .into_iter()
                .find(|(pin, _)| *pin == Some(cavity))
                .map(|(_, name)| format!("{title}, {name}"))
        }
        PartKind::Latch(latch) => {
            let named = [
                (latch.feed, "drive"),
                (latch.ajar, "ajar switch"),
                (latch.ground, "ground"),
                (latch.home, "claw-home contact"),
            ];
            named.into_iter().find(|(pin, _)| *pin == cavity).map(|(_, name)| format!("{title}, {name}"))
        }
        PartKind::Module(module) => {
            let own = [(module.supply, "supply"), (module.ground, "ground")];
            let own = own.into_iter().find(|(pin, _)| *pin == cavity).map(|(_, name)| name.to_owned());
            let input = || {
                let found = module.inputs.iter().find(|input| input.pin == cavity)?;
                Some(format!("input, {}", found.title.written()))
            };
            let output = || {
                let found = module.outputs.iter().find(|output| output.pin == cavity)?;
                Some(format!("output, {}", found.title.written()))
            };
            let feed = || {
                let fed = module.outputs.iter().filter(|output| output.feed == cavity);
                let fed: Vec<&str> = fed.map(|output| output.title.written()).collect();
                (!fed.is_empty()).then(|| format!("feed of the output for {}", fed.join(", ")))
            };
            let name = own.or_else(input).or_else(output).or_else(feed)?;
            Some(format!("{title}, {name}"))
        }
    }
}
