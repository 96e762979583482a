//! What is wrong with a screen, for tests: words that are cut, half covered, pale or over each other, cards that reach out of the
//! window, what no key reaches or a screen reader has no name for, and what is too small to be touched.

use std::collections::BTreeSet;

use bevy::color::Srgba;
use bevy_egui::egui::accesskit::{Action, Node, NodeId, Role, TreeUpdate};
use bevy_egui::egui::epaint::Shape;
use bevy_egui::egui::layers::GraphicLayers;
use bevy_egui::egui::{self, Color32, Id, LayerId, Order, Pos2, Rect, pos2, vec2};

use super::scenery::{Palette, contrast};
use super::settings::Light;
use super::theme;

/// What is said first of words that do not lie within their card.
pub(super) const CUT: &str = "cut: ";
/// What a letter may reach beyond an edge, and what two may share, in points.
const SLACK: f32 = 1.5;
/// Least contrast of words (WCAG 2.2, level AA: published).
const LEAST_CONTRAST: f32 = 4.5;
/// Least height and width of what is touched, in points, unless others are as far from it (WCAG 2.2, 2.5.8: published).
const LEAST_TARGET: f32 = 24.0;
/// How far from words in it the bar of what scrolls may be, in points.
const MARGIN: f32 = 60.0;
/// From this opacity on, of 255, what is painted over words hides them.
const HIDES: u8 = 230;
/// What always lies over the scene. What it covers nobody can lay open; a card is moved or closed.
const FURNITURE: [&str; 4] = ["sheet", "captions", "near", "first job"];

/// A ground as it is drawn under the overlay: where, and the colours from and to which it runs.
pub(super) struct Drawn {
    pub(super) rect: Rect,
    pub(super) colours: Vec<Color32>,
}

/// Words that are shown: what they are, where, and what of that can be seen.
struct Written {
    words: String,
    rect: Rect,
    clip: Rect,
    layer: LayerId,
    at: usize,
    inks: Vec<Color32>,
    /// What cannot be worked just now may be pale (WCAG 2.2, 1.4.3: published).
    faded: bool,
}

/// What is filled: a rectangle, or another shape with these corners.
struct Ground {
    rect: Rect,
    corners: Vec<Pos2>,
    fill: Color32,
    layer: LayerId,
    at: usize,
}

impl Ground {
    fn contains(&self, at: Pos2) -> bool {
        if !self.rect.contains(at) {
            return false;
        }
        let mut inside = self.corners.is_empty();
        for k in 0..self.corners.len() {
            let (a, b) = (self.corners[k], self.corners[(k + 1) % self.corners.len()]);
            if (a.y > at.y) != (b.y > at.y) && at.x < (b.x - a.x) * (at.y - a.y) / (b.y - a.y) + a.x {
                inside = !inside;
            }
        }
        inside
    }

    fn hides(&self) -> bool {
        self.corners.is_empty() && self.fill.a() >= HIDES
    }
}

/// What was painted, from the lowest to the uppermost.
#[derive(Default)]
struct Painted {
    grounds: Vec<Ground>,
    words: Vec<Written>,
    count: usize,
}

impl Painted {
    /// Takes down all layers, in the order in which they are painted.
    fn of(ctx: &egui::Context) -> Self {
        let areas: Vec<LayerId> = ctx.memory(|memory| memory.layer_ids().collect());
        // What is no area is painted after those of its order.
        let others = [(Order::Background, "scene"), (Order::Tooltip, "in hand")];
        let others = others.map(|(order, name)| LayerId::new(order, Id::new(name)));
        let orders = [Order::Background, Order::Middle, Order::Foreground, Order::Tooltip, Order::Debug];
        let layers = orders.into_iter().flat_map(|order| {
            let these = areas.iter().copied().chain(others).filter(move |layer| layer.order == order);
            these.collect::<Vec<_>>()
        });
        let mut painted = Self::default();
        ctx.graphics(|graphics: &GraphicLayers| {
            for layer in layers {
                for one in graphics.get(layer).into_iter().flat_map(|list| list.all_entries()) {
                    painted.collect(&one.shape, one.clip_rect, layer);
                }
            }
        });
        painted
    }

    fn collect(&mut self, shape: &Shape, clip: Rect, layer: LayerId) {
        self.count += 1;
        let at = self.count;
        match shape {
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| self.collect(shape, clip, layer)),
            Shape::Rect(one) => {
                let rect = one.rect.intersect(clip);
                self.grounds.push(Ground { rect, corners: Vec::new(), fill: one.fill, layer, at });
            }
            Shape::Path(path) if path.closed && path.fill != Color32::TRANSPARENT => {
                let rect = Rect::from_points(&path.points).intersect(clip);
                self.grounds.push(Ground { rect, corners: path.points.clone(), fill: path.fill, layer, at });
            }
            Shape::Circle(circle) if circle.fill != Color32::TRANSPARENT => {
                let corners: Vec<Pos2> = (0..16_u8)
                    .map(|k| {
                        circle.center
                            + egui::Vec2::angled(f32::from(k) * std::f32::consts::FRAC_PI_8) * circle.radius
                    })
                    .collect();
                let rect = Rect::from_points(&corners).intersect(clip);
                self.grounds.push(Ground { rect, corners, fill: circle.fill, layer, at });
            }
            Shape::Text(text) => {
                let words = text.galley.text().trim().to_owned();
                if words.is_empty() {
                    return;
                }
                let inks = text.galley.job.sections.iter().map(|section| {
                    let own = section.format.color;
                    let own = if own == Color32::PLACEHOLDER { text.fallback_color } else { own };
                    text.override_text_color.unwrap_or(own)
                });
                self.words.push(Written {
                    words,
                    // The letters themselves, without the room that a line keeps.
                    rect: text.visual_bounding_rect(),
                    clip,
                    layer,
                    at,
                    inks: inks.collect(),
                    faded: text.opacity_factor < 1.0,
                });
            }
            _ => {}
        }
    }

    /// What lies over words and hides a part of them, at least.
    fn covers<'a>(&'a self, one: &'a Written) -> impl Iterator<Item = &'a Ground> {
        self.grounds.iter().filter(|ground| ground.at > one.at && ground.hides())
    }

    /// The least contrast of words, looked at here; nothing where the drawing lies behind them and nobody knows how it is coloured.
    fn contrast(&self, one: &Written, piece: Rect, drawn: &[Drawn]) -> Option<f32> {
        let at = piece.center();
        let below = |ground: &&Ground| ground.at < one.at && ground.contains(at);
        let known = drawn
            .iter()
            .find(|ground| ground.rect.expand(SLACK).contains_rect(piece))
            .map(|ground| ground.colours.clone());
        let hidden = self.grounds.iter().filter(below).any(|ground| ground.fill.a() >= HIDES);
        let drawn = match known {
            Some(colours) => colours,
            None if hidden => vec![Color32::BLACK, Color32::WHITE],
            None => return None,
        };
        let grounds = drawn.into_iter().map(|drawn| {
            self.grounds.iter().filter(below).fold(drawn, |ground, next| ground.blend(next.fill))
        });
        let all = grounds.flat_map(|ground| one.inks.iter().map(move |ink| contrast_of(*ink, ground)));
        Some(all.fold(f32::MAX, f32::min))
    }
}

fn contrast_of(words: Color32, ground: Color32) -> f32 {
    let plain = |colour: Color32| Srgba::rgb_u8(colour.r(), colour.g(), colour.b());
    contrast(plain(ground.blend(words)), plain(ground))
}

/// What is left of some rectangles beside another one.
fn beside(pieces: Vec<Rect>, cover: Rect) -> Vec<Rect> {
    let large = |rect: &Rect| rect.width() > SLACK && rect.height() > SLACK;
    pieces
        .into_iter()
        .flat_map(|piece| {
            let both = piece.intersect(cover);
            if !both.is_positive() {
                return vec![piece];
            }
            let row = |top: f32, bottom: f32| Rect::from_x_y_ranges(piece.x_range(), top..=bottom);
            let end = |left: f32, right: f32| Rect::from_x_y_ranges(left..=right, both.y_range());
            vec![
                row(piece.top(), both.top()),
                row(both.bottom(), piece.bottom()),
                end(piece.left(), both.left()),
                end(both.right(), piece.right()),
            ]
        })
        .filter(large)
        .collect()
}

/// A window somebody looks at.
pub(super) struct Eye {
    ctx: egui::Context,
    palette: Palette,
    screen: Rect,
    frames: u32,
}

/// What is to be seen in it.
pub(super) struct Seen {
    painted: Painted,
    tree: TreeUpdate,
    areas: Vec<Rect>,
    screen: Rect,
    /// Something in the drawing is looked at from near.
    near: bool,
}

impl Eye {
    /// A window of so many points.
    pub(super) fn new(size: (f32, f32), light: Light) -> Self {
        let ctx = egui::Context::default();
        let mut palette = Palette::load();
        palette.set_bright(light == Light::Bright);
        theme::dress(&ctx, &palette, light, true);
        ctx.enable_accesskit();
        Self { ctx, palette, screen: Rect::from_min_size(pos2(0.0, 0.0), vec2(size.0, size.1)), frames: 0 }
    }

    /// Forgets what was open, where it lay and what had the keyboard, as if the window had just been opened. Fonts are kept: they
    /// take longest.
    pub(super) fn forget(&mut self) {
        self.ctx.memory_mut(|memory| {
            let before = std::mem::take(memory);
            memory.options = before.options;
        });
    }

    /// Where what has this id was laid over the scene in the last frame.
    pub(super) fn area(&self, id: Id) -> Option<Rect> {
        self.ctx.memory(|memory| memory.area_rect(id))
    }

    /// Shows something for so many frames, with the pointer there.
    pub(super) fn look(
        &mut self,
        frames: u32,
        pointer: Option<Pos2>,
        mut show: impl FnMut(&egui::Context, &Palette),
    ) -> Seen {
        let mut seen = None;
        for frame in 1..=frames {
            self.frames += 1;
            let input = egui::RawInput {
                screen_rect: Some(self.screen),
                time: Some(f64::from(self.frames) * 0.5),
                events: vec![pointer.map_or(egui::Event::PointerGone, egui::Event::PointerMoved)],
                ..Default::default()
            };
            let mut painted = None;
            let mut out = self.ctx.run_ui(input, |ui| {
                show(ui.ctx(), &self.palette);
                painted = (frame == frames).then(|| Painted::of(ui.ctx()));
            });
            // Nothing is drawn.
            out.textures_delta.clear();
            seen = painted.zip(out.platform_output.accesskit_update.take());
        }
        let layers = self.ctx.memory(|memory| memory.layer_ids().collect::<Vec<_>>());
        let area = |layer: LayerId| self.ctx.memory(|memory| memory.area_rect(layer.id));
        let areas = layers.into_iter().filter_map(area).collect();
        let (painted, tree) = seen.expect("a tree for screen readers");
        let near = self.ctx.memory(|memory| {
            memory.areas().visible_layer_ids().iter().any(|layer| layer.id == Id::new("near"))
        });
        Seen { painted, tree, areas, screen: self.screen, near }
    }
}

impl Seen {
    /// All that is wrong. Words drawn on the scene itself are held to how it is `drawn` there. Of `aside` other tests see that keys
    /// do it.
    pub(super) fn wrong(&self, drawn: &[Drawn], aside: &BTreeSet<NodeId>) -> Vec<String> {
        let mut wrong = self.illegible(drawn);
        for area in &self.areas {
            if !self.screen.expand(SLACK).contains_rect(*area) {
                wrong.push(format!("a card reaches out of the window: {area:?}"));
            }
        }
        if !self.tree.nodes.iter().any(|(_, node)| node.supports_action(Action::Click)) {
            wrong.push("nothing can be worked".to_owned());
        }
        wrong.extend(self.unreachable(aside));
        wrong
    }

    /// Whether words scroll: there is a bar beside them.
    fn scrolls(&self, one: &Written) -> bool {
        self.tree.nodes.iter().filter(|(_, node)| node.role() == Role::ScrollBar).filter_map(bounds).any(
            |bar| {
                let beside = bar.center().x > one.clip.left() && bar.center().x < one.clip.right() + MARGIN;
                beside && bar.top() < one.clip.top() + 8.0 && bar.bottom() > one.clip.bottom() - 8.0
            },
        )
    }

    /// What is wrong with words.
    fn illegible(&self, drawn: &[Drawn]) -> Vec<String> {
        let mut wrong = Vec::new();
        let mut seen: Vec<(&Written, Vec<Rect>)> = Vec::new();
        let background = |layer: LayerId| layer.order == Order::Background;
        let stays = |layer: LayerId| background(layer) || FURNITURE.iter().any(|id| layer.id == Id::new(*id));
        for one in &self.painted.words {
            let shown = one.rect.intersect(one.clip).intersect(self.screen);
            if !shown.is_positive() {
                continue;
            }
            // What is written in the drawing goes out of sight with it, and behind what lies over it, once the eye is near.
            let goes = self.near
                && background(one.layer)
                && drawn.iter().any(|ground| ground.rect.intersects(one.rect));
            let mut pieces = vec![shown];
            for cover in self.painted.covers(one) {
                let left = beside(pieces.clone(), cover.rect);
                let half = !left.is_empty() && left != pieces && stays(cover.layer);
                let half = half && !(goes && cover.layer.order != Order::Background);
                if half && one.rect.intersect(cover.rect).area() > SLACK * SLACK {
                    wrong
                        .push(format!("half covered: {:?} at {:?} by {:?}", one.words, one.rect, cover.rect));
                }
                pieces = left;
            }
            let Some(largest) = pieces.iter().copied().max_by(|a, b| a.area().total_cmp(&b.area())) else {
                continue;
            };
            match self.painted.contrast(one, largest, drawn) {
                None => wrong.push(format!("nothing behind: {:?} at {:?}", one.words, one.rect)),
                Some(contrast) if contrast < LEAST_CONTRAST && !one.faded => {
                    wrong.push(format!("pale: {:?}, contrast {contrast:.1}", one.words));
                }
                Some(_) => {}
            }
            let clip = one.clip.intersect(self.screen);
            let clip = if goes { Rect::EVERYTHING } else { clip };
            // Words that scroll are cut at the edge of what scrolls, above and below, and nowhere else.
            let rows = if self.scrolls(one) { one.rect } else { clip };
            if !Rect::from_x_y_ranges(clip.x_range(), rows.y_range()).expand(SLACK).contains_rect(one.rect) {
                wrong.push(format!("{CUT}{:?} at {:?} within {clip:?}", one.words, one.rect));
            }
            seen.push((one, pieces));
        }
        for (at, (one, here)) in seen.iter().enumerate() {
            for (other, there) in &seen[at + 1..] {
                if one.words == other.words || !one.rect.intersects(other.rect) {
                    continue;
                }
                let both = here.iter().flat_map(|here| there.iter().map(|there| here.intersect(*there)));
                let large = |both: &Rect| both.width() > SLACK && both.height() > SLACK;
                // The tool in hand lies between them, as a rule: what it covers is hidden there.
                let between =
                    |ground: &&Ground| ground.at > one.at && ground.at < other.at && ground.fill.a() >= HIDES;
                let hidden = |both: &Rect| {
                    let corners =
                        [both.left_top(), both.right_top(), both.left_bottom(), both.right_bottom()];
                    let grounds = || self.painted.grounds.iter().filter(between);
                    corners.into_iter().all(|corner| grounds().any(|ground| ground.contains(corner)))
                };
                if let Some(both) = both.into_iter().find(|both| large(both) && !hidden(both)) {
                    wrong.push(format!("over each other: {:?} and {:?} at {both:?}", one.words, other.words));
                }
            }
        }
        wrong
    }

    /// What a pointer can work.
    fn worked(&self) -> impl Iterator<Item = (&NodeId, &Node)> {
        // Of a label the words can be marked, and that is all; a window comes to the front; what scrolls follows Tab and the keys
        // for pages.
        let others = [Role::Label, Role::Window, Role::ScrollBar];
        let worked = move |node: &Node| node.supports_action(Action::Click) && !others.contains(&node.role());
        self.tree.nodes.iter().filter(move |(_, node)| worked(node)).map(|(id, node)| (id, node))
    }

    /// What a key cannot do, and what has no name, as a screen reader is told.
    fn unreachable(&self, aside: &BTreeSet<NodeId>) -> Vec<String> {
        let mut wrong = Vec::new();
        for (id, node) in self.worked().filter(|(id, _)| !aside.contains(id)) {
            let told = || format!("{id:?} {:?} {:?} at {:?}", node.role(), node.label(), node.bounds());
            if !node.supports_action(Action::Focus) && !node.is_disabled() {
                wrong.push(format!("no key reaches {}", told()));
            }
            let says = |text: Option<&str>| text.is_some_and(|text| !text.trim().is_empty());
            let named = says(node.label()) || says(node.value()) || !node.labelled_by().is_empty();
            if !named {
                wrong.push(format!("no name: {}", told()));
            }
        }
        wrong
    }

    /// What is too small to be touched, and others too near to make up for it.
    pub(super) fn small(&self, aside: &BTreeSet<NodeId>) -> Vec<String> {
        let targets: Vec<(&Node, Rect)> = self
            .worked()
            .filter(|(id, _)| !aside.contains(id))
            .filter_map(|one| Some((one.1, bounds(&(*one.0, one.1.clone()))?)))
            .filter(|(_, rect)| rect.intersects(self.screen))
            .collect();
        let small = |rect: Rect| rect.width() < LEAST_TARGET - 0.1 || rect.height() < LEAST_TARGET - 0.1;
        let round = |rect: Rect| Rect::from_center_size(rect.center(), egui::Vec2::splat(LEAST_TARGET - 0.1));
        let mut wrong = Vec::new();
        for (at, (node, rect)) in targets.iter().enumerate().filter(|(_, (_, rect))| small(*rect)) {
            for (other, (neighbour, there)) in targets.iter().enumerate() {
                let near = if small(*there) {
                    rect.center().distance(there.center()) < LEAST_TARGET - 0.1
                } else {
                    round(*rect).intersects(*there)
                };
                if other != at && near {
                    let names = [node, neighbour].map(|node| node.label().unwrap_or_default());
                    wrong
                        .push(format!("small: {:?} at {rect:?}, near {:?} at {there:?}", names[0], names[1]));
                }
            }
        }
        wrong
    }

    /// Where something that can be touched is.
    pub(super) fn place_of(&self, id: Id) -> Option<Rect> {
        let id = id.accesskit_id();
        self.tree.nodes.iter().find(|(one, _)| *one == id).and_then(bounds)
    }

    /// The names of buttons that a key reaches.
    pub(super) fn buttons(&self) -> BTreeSet<&str> {
        let reached = self.worked().filter(|(_, node)| node.supports_action(Action::Focus));
        reached.filter_map(|(_, node)| node.label()).collect()
    }

    /// Whether something is told with these words in it, by its label or by what it shows.
    pub(super) fn tells_of(&self, words: &str) -> bool {
        let says = |text: Option<&str>| text.is_some_and(|text| text.contains(words));
        self.tree.nodes.iter().any(|(_, node)| says(node.label()) || says(node.value()))
    }

    /// What a screen reader says by itself when it changes.
    pub(super) fn announced(&self) -> Vec<&str> {
        let live = self.tree.nodes.iter().filter(|(_, node)| node.live().is_some());
        live.filter_map(|(_, node)| node.value()).collect()
    }
}

fn bounds((_, node): &(NodeId, Node)) -> Option<Rect> {
    let bounds = node.bounds()?;
    #[expect(clippy::cast_possible_truncation, reason = "points of a window")]
    let at = |x: f64, y: f64| pos2(x as f32, y as f32);
    Some(Rect::from_min_max(at(bounds.x0, bounds.y0), at(bounds.x1, bounds.y1)))
}
