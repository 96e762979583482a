//! Everything that is on the shelf: scenarios are loaded, checked by playing and listed; every fault can be named and played
//! with; the vehicles keep to what is known of fuses and wires; the small scenarios are fair.
#![expect(clippy::print_stdout, reason = "a test of a part of the shelf says of which part")]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

use probeworthy::bench::{Action, Certain, InstrumentErrors, LidTo, World, step};
use probeworthy::fault::PlacedFault;
use probeworthy::scenario::{SHELF, Scenario, Trial, VEHICLES, load, load_vehicle};
use probeworthy::survey::{Survey, gives_complaint, opens_when_sound};
use probeworthy::threads;
use probeworthy::vehicle::{
    ConductorId, ConnectorId, End, FuseId, Half, KeyButton, Mate, PanelId, PartId, PartKind, Side, Title,
    Vehicle,
};
use probeworthy::words::{
    Language, Texts, circuits, parse, shelf_row, shelf_row_begins, shelf_table_head, text,
};

static SCENARIOS: LazyLock<Vec<Arc<Scenario>>> = LazyLock::new(|| {
    let all = SHELF.iter().map(|shelf| match load(shelf.id) {
        Ok(loaded) => Arc::new(loaded.scenario),
        Err(why) => panic!("{}: {why}", shelf.id),
    });
    all.collect()
});

/// Does something with every fault of the shelf, on two threads; what is wrong with each.
fn wrong_with_faults(look: impl Fn(&Scenario, &PlacedFault) -> Option<String> + Sync) -> Vec<String> {
    let all: Vec<(&Scenario, &PlacedFault)> = SCENARIOS
        .iter()
        .flat_map(|scenario| scenario.faults.iter().map(move |fault| (&**scenario, fault)))
        .collect();
    let share = |first: usize| -> Vec<String> {
        let mine = all.iter().skip(first).step_by(2);
        mine.filter_map(|&(scenario, fault)| {
            look(scenario, fault).map(|what| format!("{}: {}: {what}", scenario.id, fault.id))
        })
        .collect()
    };
    std::thread::scope(|scope| {
        let other = scope.spawn(|| share(1));
        let mut wrong = share(0);
        wrong.extend(other.join().expect("a fault panicked"));
        wrong
    })
}

#[test]
fn files_are_named_for_what_they_hold_and_every_vehicle_is_used() {
    for (shelf, scenario) in SHELF.iter().zip(&*SCENARIOS) {
        assert_eq!(shelf.id, scenario.id);
        assert_eq!(shelf.file, format!("{}.scenario.ron", scenario.id));
    }
    for (id, _) in VEHICLES {
        let used = SCENARIOS.iter().filter(|scenario| scenario.vehicle.id == *id).count();
        assert!(used >= 4, "{id} is used by {used} scenarios");
    }
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios");
    let files = std::fs::read_dir(folder).expect("the folder is there").filter_map(|entry| {
        let name = entry.expect("it can be read").file_name().into_string().expect("a plain name");
        name.strip_suffix(".scenario.ron").map(str::to_owned)
    });
    let missing: Vec<String> = files.filter(|id| SHELF.iter().all(|shelf| shelf.id != id)).collect();
    assert!(missing.is_empty(), "not on the shelf: {missing:?}");
}

/// Scenarios begin with at least eight circuits: told apart by what the customer uses.
#[test]
fn the_shelf_has_many_circuits() {
    let mut by_circuit: BTreeMap<(String, String), Vec<&str>> = BTreeMap::new();
    for scenario in &*SCENARIOS {
        let circuit = (scenario.vehicle.id.clone(), circuits(Texts::english(), scenario));
        by_circuit.entry(circuit).or_default().push(&scenario.id);
    }
    assert!(by_circuit.len() >= 8, "{by_circuit:?}");
}

#[test]
fn every_sound_vehicle_does_what_is_tried_on_it() {
    for scenario in &*SCENARIOS {
        assert_eq!(opens_when_sound(scenario), Ok(()), "{}", scenario.id);
    }
}

#[test]
fn every_fault_gives_its_complaint() {
    let wrong = wrong_with_faults(|scenario, fault| {
        gives_complaint(scenario, fault).err().map(|why| why.to_string())
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What a day brings, and a workshop: with every fault all of it has a solution.
#[test]
fn every_fault_can_be_played_with() {
    let wrong = wrong_with_faults(|scenario, fault| {
        let vehicle = &scenario.vehicle;
        let mut world =
            match World::standing(vehicle, Some(fault), InstrumentErrors::NONE, scenario.conditions) {
                Ok(world) => world,
                Err(why) => return Some(format!("as it comes in: {why}")),
            };
        for act in a_day(scenario) {
            if let Err(why) = step(vehicle, &mut world, &act, &mut Certain) {
                return Some(format!("{}: {why}", text(vehicle, &act)));
            }
        }
        None
    });
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

fn a_day(scenario: &Scenario) -> Vec<Action> {
    let vehicle = &scenario.vehicle;
    let switches = |springs: bool| {
        vehicle.parts().filter(move |(_, part)| {
            matches!(part.kind, PartKind::Switch { springs_back, .. } if springs_back == springs)
        })
    };
    let turn = |on: bool| switches(false).map(move |(id, _)| Action::Switch(id, on));
    let mut acts: Vec<Action> = scenario.trials.iter().flat_map(Trial::acts).collect();
    acts.extend(scenario.trials.iter().filter_map(Trial::undo));
    acts.extend([KeyButton::Lock, KeyButton::Unlock, KeyButton::Release].map(Action::Key));
    acts.extend(switches(true).map(|(id, _)| Action::Press(id)));
    acts.extend(turn(true));
    acts.extend([Action::Wet, Action::Lever, Action::Lid(LidTo::Angle(vehicle.lid.full_degrees))]);
    acts.extend((0..vehicle.panels.len()).map(|at| Action::Panel(PanelId::at(at), true)));
    for mated in [false, true] {
        acts.extend((0..vehicle.connectors.len()).map(|at| Action::Plug(ConnectorId::at(at), mated)));
    }
    acts.extend([Action::Lid(LidTo::Shut), Action::Key(KeyButton::Release)]);
    acts.extend(turn(false));
    acts.push(Action::Wait(30));
    acts
}

#[test]
fn every_fault_and_every_trial_is_written_and_read_back() {
    for scenario in &*SCENARIOS {
        let vehicle = &scenario.vehicle;
        let back = |act: Action| {
            let line = text(vehicle, &act);
            assert_eq!(parse(vehicle, &line), Ok(act), "{}: {line}", scenario.id);
        };
        for fault in &scenario.faults {
            assert_eq!(scenario.fault(&fault.id).map(|one| &one.id), Some(&fault.id), "{}", scenario.id);
            fault.diagnoses().for_each(|diagnosis| back(Action::Name(diagnosis, 100)));
        }
        scenario.trials.iter().flat_map(Trial::acts).for_each(back);
        scenario.trials.iter().filter_map(Trial::undo).for_each(back);
    }
}

/// The greatest fuse that a wire is laid behind, by its cross-section in mm² (common practice, no source).
const FUSE_FOR_WIRE: [(f64, u8); 8] =
    [(0.35, 3), (0.5, 5), (0.75, 10), (1.0, 15), (1.5, 20), (2.5, 30), (4.0, 40), (6.0, 60)];

/// The estate is older than this table, and was laid after another.
const OTHER_WIRES: [&str; 1] = ["estate"];

#[test]
fn no_wire_is_too_thin_for_its_fuse() {
    for (id, vehicle) in vehicles() {
        if OTHER_WIRES.contains(&id) {
            continue;
        }
        for at in 0..vehicle.fuses.len() {
            let fuse = vehicle.fuse(FuseId::at(at));
            let wires = behind(&vehicle, FuseId::at(at));
            assert!(!wires.is_empty(), "{id}: nothing hangs on {}", fuse.id);
            for wire in wires {
                let size = wire.square_millimetres;
                let most = FUSE_FOR_WIRE.iter().find(|(known, _)| *known == size);
                let (_, most) = most.unwrap_or_else(|| panic!("{id}: {}: {size} mm²", wire.id));
                assert!(
                    fuse.rating_amps <= *most,
                    "{id}: {} of {size} mm² behind {} A",
                    wire.id,
                    fuse.rating_amps
                );
            }
        }
    }
}

/// The wires that a fuse protects: along splices, in-line connectors and switches, up to what uses the current.
fn behind(vehicle: &Vehicle, fuse: FuseId) -> Vec<&probeworthy::vehicle::Conductor> {
    let mut ends = vec![End::Fuse(fuse, Side::Load)];
    let mut found: Vec<usize> = Vec::new();
    while let Some(end) = ends.pop() {
        for (at, wire) in vehicle.conductors.iter().enumerate() {
            let far = if wire.from == end {
                wire.to
            } else if wire.to == end {
                wire.from
            } else {
                continue;
            };
            if found.contains(&at) {
                continue;
            }
            found.push(at);
            ends.push(far);
            if let End::Cavity(connector, half, number) = far {
                let other = if half == Half::Loom { Half::Mate } else { Half::Loom };
                ends.push(End::Cavity(connector, other, number));
                ends.extend(through_switch(vehicle, connector, number));
            }
        }
    }
    found.into_iter().map(|at| vehicle.conductor(ConductorId::at(at))).collect()
}

/// Where the current goes on behind a switch.
fn through_switch(vehicle: &Vehicle, connector: ConnectorId, number: u8) -> Option<End> {
    vehicle.parts().find_map(|(_, part)| match part.kind {
        PartKind::Switch { pins: (one, other), .. } if part.connector == connector => {
            let pair = [(one, other), (other, one)].into_iter().find(|(near, _)| *near == number);
            pair.map(|(_, far)| End::Cavity(connector, Half::Loom, far))
        }
        _ => None,
    })
}

/// With everything on for half an hour and the latch released twice, no fuse of a sound vehicle blows, and it opens twice.
#[test]
fn no_fuse_is_smaller_than_its_load() {
    for (id, vehicle) in vehicles() {
        let mut world = World::new(&vehicle, None, InstrumentErrors::NONE).expect("a sound vehicle");
        let staying: Vec<PartId> = vehicle
            .parts()
            .filter(|(_, part)| matches!(part.kind, PartKind::Switch { springs_back: false, .. }))
            .map(|(part, _)| part)
            .collect();
        let mut acts: Vec<Action> = staying.iter().map(|&part| Action::Switch(part, true)).collect();
        acts.push(Action::Wait(30));
        for _ in 0..2 {
            acts.extend([Action::Key(KeyButton::Release), Action::Lid(LidTo::Shut)]);
        }
        for act in acts {
            let outcome = step(&vehicle, &mut world, &act, &mut Certain).expect("it has a solution");
            assert_eq!(outcome.refused, None, "{id}: {}", text(&vehicle, &act));
        }
        let blown = world.state.fuses.iter().zip(&vehicle.fuses);
        let blown: Vec<&str> = blown
            .filter(|(slot, _)| slot.fitted.is_none_or(|fuse| fuse.blown))
            .map(|(_, file)| file.id.as_str())
            .collect();
        assert!(blown.is_empty(), "{id}: {blown:?}");
    }
}

fn vehicles() -> Vec<(&'static str, Vehicle)> {
    let of = |id: &str| SCENARIOS.iter().find(|scenario| scenario.vehicle.id == id);
    VEHICLES.iter().map(|(id, _)| (*id, of(id).expect("it is used").vehicle.clone())).collect()
}

/// ISO 11446 (published): the trailer's lamps hang on the contacts that it gives them, with wires of its sizes.
#[test]
fn the_trailer_socket_is_wired_by_its_standard() {
    let tow = vehicles().into_iter().find(|(id, _)| *id == "tow").expect("it is on the shelf").1;
    let socket = ConnectorId::at(tow.connectors.iter().position(|one| one.id == "socket").expect("a socket"));
    assert_eq!(tow.connector(socket).cavities, 13);
    for (contact, title, size) in [
        (1, "left indicator", 1.5),
        (2, "rear fog", 1.5),
        (3, "ground", 2.5),
        (4, "right indicator", 1.5),
        (5, "58R", 1.5),
        (6, "stop", 1.5),
        (7, "58L", 1.5),
        (8, "reversing", 1.5),
        (9, "permanent feed", 2.5),
        (13, "ground for 9", 2.5),
    ] {
        let wire = tow.conductor_in(socket, Half::Loom, contact).expect("a wire ends there");
        let wire = tow.conductor(wire);
        assert_eq!(wire.title.written(), format!("socket {contact}, {title}"));
        assert_eq!(wire.square_millimetres, size, "{}", wire.id);
    }
}

/// Every title and all words of customers of the shelf are there in every language, and what can be chosen of one kind is told apart in it.
#[test]
fn every_title_and_every_customers_words_are_translated() {
    for language in Language::ALL.into_iter().filter(|one| *one != Language::English) {
        let tag = language.tag();
        for scenario in SCENARIOS.iter() {
            assert!(scenario.title.translated(tag).is_some(), "{} has no title in {tag}", scenario.id);
            let words = std::iter::once(&scenario.customer).chain(&scenario.other_words);
            let told: BTreeSet<&str> = words.filter_map(|words| words.translated(tag)).collect();
            assert_eq!(told.len(), scenario.other_words.len() + 1, "{} in {tag}: {told:?}", scenario.id);
        }
        for (name, _) in VEHICLES {
            let mut vehicle = load_vehicle(name).expect("a sound vehicle");
            let own_pins: Vec<Title> = vehicle
                .connectors
                .iter()
                .filter(|x| x.mate == Mate::Pins)
                .map(|x| x.mate_title.clone())
                .collect();
            // Of its pins a connector's title says whose they are.
            let missing: Vec<Title> = (vehicle.titles_mut().into_iter().map(|title| title.clone()))
                .filter(|title| title.translated(tag).is_none() && !own_pins.contains(title))
                .collect();
            assert!(missing.is_empty(), "{name} has no {tag} for {missing:?}");
            let t = Texts::of(language);
            let kinds = [
                vehicle.connectors.iter().map(|x| &x.title).collect::<Vec<_>>(),
                vehicle.parts.iter().map(|x| &x.title).collect(),
                vehicle.conductors.iter().map(|x| &x.title).collect(),
                vehicle.stations.iter().map(|x| &x.title).collect(),
                vehicle.fuses.iter().map(|x| &x.title).collect(),
                vehicle.studs.iter().map(|x| &x.title).collect(),
                vehicle.panels.iter().map(|x| &x.title).collect(),
            ];
            for titles in kinds {
                let written: BTreeSet<&str> = titles.iter().map(|title| title.written()).collect();
                let told: BTreeSet<&str> = titles.iter().map(|title| t.title(title)).collect();
                assert_eq!(told.len(), written.len(), "{name}: {told:?}");
            }
        }
    }
}

const README: &str = include_str!("../../scenarios/README.md");

/// The table in the guide: one row for each scenario, in the order of the shelf.
fn table() -> Vec<&'static str> {
    let head = shelf_table_head();
    let rows = README.split_once(&head).expect("the guide has the table").1;
    rows.lines().take_while(|line| line.starts_with('|')).collect()
}

#[test]
fn the_guide_lists_every_scenario() {
    let rows = table();
    assert_eq!(
        rows.len(),
        SHELF.len(),
        "write the output of `probeworthy shelf --markdown` into scenarios/README.md"
    );
    for (scenario, row) in SCENARIOS.iter().zip(rows) {
        let begins = shelf_row_begins(scenario);
        assert!(row.starts_with(&begins), "it has\n{row}\nand should begin with\n{begins}");
    }
}

/// Scenarios with so few faults are surveyed here.
const FEW: usize = 4;

#[test]
fn the_small_scenarios_are_fair_and_the_guide_says_how_hard_they_are() {
    for (scenario, row) in SCENARIOS.iter().zip(table()).filter(|(one, _)| one.faults.len() <= FEW) {
        let survey =
            Survey::new(Arc::clone(scenario), threads::available()).expect("every vehicle has a solution");
        println!("surveyed: {}", scenario.id);
        assert_eq!(survey.groups, [], "{}: faults that no test tells apart", scenario.id);
        assert_eq!(survey.unconfirmable, [], "{}: faults that nobody can confirm", scenario.id);
        assert_eq!(row, shelf_row(&survey).trim_end());
    }
}
