//! Every text that a user reads: what was seen and heard, what was done, and the commands that name an act.

mod acts;
mod coach;
mod command;
mod customer;
mod debrief;
mod describe;
mod diagram;
mod findings;
mod guide;
mod handout;
pub(crate) mod html;
mod instruments;
mod marking;
mod particulars;
mod practising;
mod shelf;
mod starter;
mod strip;
mod survey;
mod suspicions;
mod texts;
mod validity;

pub use acts::{action_title, acts_of_commands};
pub use coach::{advice, advice_in_commands, coached_so_far, coaching_price, rung};
pub use command::{CommandError, form, parse, text};
pub use debrief::{
    Row, debrief_html, debrief_text, explanation, legend as debrief_legend, practice, rows as debrief_rows,
    waypoint,
};
pub use describe::{
    answer, capital, caution, clamp_place_title, clamp_reading, conductor_title, connector_title, diagnosis,
    fault_title, heard, kind_title, kit_title, lid_word, light, limits, loom_look, part_title, point_title,
    precaution_title, question, reading, refusal, refusal_with_names, seen, setting_title, terminal_look,
    thing_title, tool_title, write_up_title,
};
pub use diagram::{diagram_names, diagram_svg};
pub use findings::{findings, not_put_back};
pub use guide::{Topic, help, names_here};
pub use handout::{instructor_sheet, learner_sheet};
pub use instruments::{meter as meter_about, notes as instrument_notes, settings as meter_settings};
pub use marking::{afterwards, calibration, cap, part_key, part_of_marks, referral, result_text, why};
pub use particulars::fault_titles_apart;
pub use practising::{level, practice_text, skill, why_next};
pub use shelf::{circuits, shelf_figures, shelf_line, shelf_row, shelf_row_begins, shelf_table_head};
pub use starter::{FAULT_GUIDES, FaultGuide, NoStarter, starter};
pub use strip::{recorder_figure, recording, strip};
pub use survey::{survey_html, survey_json, survey_text};
pub use suspicions::{overfull, suspicions};
pub use texts::{Args, Language, Texts};
pub use validity::{learner, learner_way, validity_json, validity_text};
