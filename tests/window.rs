//! The window, rendered and worked under a virtual display with the development build.
//!
//! Needs Debian's xvfb, xdotool and mesa-vulkan-drivers. Where they are missing it says so and is skipped; under CI they
//! are required. It fails when the window shows nothing, does not change when the car does, or does not do what is
//! clicked and typed.
#![cfg(feature = "game")]
#![expect(clippy::print_stderr, reason = "a test that is skipped says so")]

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::Duration;

use probeworthy::fault::draw;
use probeworthy::scenario::{default_scenario, load};
use probeworthy::words;

const WIDTH: usize = 1280;
const HEIGHT: usize = 720;

/// Ends its process when it goes.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A virtual display with the program in it.
struct Stage {
    folder: PathBuf,
    display: String,
    program: Option<Running>,
    server: Option<Running>,
}

impl Drop for Stage {
    fn drop(&mut self) {
        self.program = None;
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn exists(program: &str) -> bool {
    std::env::var_os("PATH")
        .is_some_and(|path| std::env::split_paths(&path).any(|folder| folder.join(program).is_file()))
}

fn missing() -> Vec<&'static str> {
    let driver = Path::new("/usr/share/vulkan/icd.d").read_dir().is_ok_and(|mut files| {
        files.any(|file| file.is_ok_and(|file| file.file_name().to_string_lossy().starts_with("lvp_icd")))
    });
    let mut missing: Vec<&str> = ["Xvfb", "xdotool"].into_iter().filter(|program| !exists(program)).collect();
    if !driver {
        missing.push("mesa-vulkan-drivers");
    }
    missing
}

impl Stage {
    /// `None` where something is missing that CI would have.
    fn set(name: &str) -> Option<Self> {
        let missing = missing();
        if !missing.is_empty() {
            let required = ["CI", "PROBEWORTHY_WINDOW_REQUIRED"]
                .into_iter()
                .any(|name| std::env::var_os(name).is_some());
            assert!(!required, "required here: {}", missing.join(", "));
            eprintln!("skipped: {name} needs {}", missing.join(", "));
            return None;
        }
        let folder = std::env::temp_dir().join(format!("probeworthy-window-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a temporary folder");
        let (display, server) = Self::serve(&folder);
        Some(Self { folder, display, program: None, server: Some(server) })
    }

    /// Opens a virtual display that keeps its screen in a file of this folder.
    fn serve(folder: &Path) -> (String, Running) {
        for number in 200..260 {
            if Path::new(&format!("/tmp/.X11-unix/X{number}")).exists() {
                continue;
            }
            let display = format!(":{number}");
            let screen = format!("{WIDTH}x{HEIGHT}x24");
            let mut server = Running(
                Command::new("Xvfb")
                    // It would begin anew, and write its file anew while that is read, whenever the last program leaves it.
                    .args([&display, "-screen", "0", &screen, "-noreset", "-nolisten", "tcp", "-fbdir"])
                    .arg(folder)
                    .stdout(Stdio::null())
                    .stderr(Stdio::null())
                    .spawn()
                    .expect("Xvfb starts"),
            );
            for _ in 0..50 {
                sleep(Duration::from_millis(100));
                let answers =
                    Command::new("xdotool").arg("getmouselocation").env("DISPLAY", &display).output();
                if answers.is_ok_and(|output| output.status.success()) {
                    return (display, server);
                }
                if server.0.try_wait().is_ok_and(|ended| ended.is_some()) {
                    break;
                }
            }
        }
        panic!("no virtual display could be opened");
    }

    fn play(&mut self, arguments: &[&str]) {
        let log = std::fs::File::create(self.folder.join("log")).expect("a log");
        let child = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
            .args(arguments)
            .env("DISPLAY", &self.display)
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET")
            .env("XDG_RUNTIME_DIR", &self.folder)
            .env("XDG_DATA_HOME", self.folder.join("data"))
            .env("HOME", &self.folder)
            // Whatever the machine speaks.
            .env("LC_ALL", "C")
            .stdout(log.try_clone().expect("a log"))
            .stderr(log)
            .spawn()
            .expect("the program starts");
        self.program = Some(Running(child));
    }

    /// Ends the program at once, and opens another display: on the first its last picture stays, and would be taken for the
    /// next window's.
    fn end(&mut self) {
        self.program = None;
        self.server = None;
        let (display, server) = Self::serve(&self.folder);
        (self.display, self.server) = (display, Some(server));
    }

    fn log(&self) -> String {
        std::fs::read_to_string(self.folder.join("log")).unwrap_or_default()
    }

    fn xdotool(&self, arguments: &[&str]) {
        let done = Command::new("xdotool").args(arguments).env("DISPLAY", &self.display).status();
        assert!(done.is_ok_and(|status| status.success()), "xdotool {arguments:?}");
    }

    fn click(&self, x: u32, y: u32) {
        self.xdotool(&["mousemove", &x.to_string(), &y.to_string()]);
        sleep(Duration::from_millis(250));
        self.xdotool(&["mousedown", "1"]);
        sleep(Duration::from_millis(120));
        self.xdotool(&["mouseup", "1"]);
        sleep(Duration::from_millis(500));
    }

    fn key(&self, name: &str) {
        self.xdotool(&["keydown", name]);
        sleep(Duration::from_millis(120));
        self.xdotool(&["keyup", name]);
        sleep(Duration::from_millis(400));
    }

    /// Seconds for which the program has kept a processor busy (proc(5), published: times in hundredths, the fourteenth and
    /// fifteenth field; the second, in brackets, may hold blanks).
    fn busy_secs(&self) -> f64 {
        let program = self.program.as_ref().expect("it plays").0.id();
        let line = std::fs::read_to_string(format!("/proc/{program}/stat")).expect("it runs");
        let fields = line.rsplit(") ").next().into_iter().flat_map(str::split_whitespace);
        fields.skip(11).take(2).map(|field| field.parse::<f64>().expect("a number")).sum::<f64>() / 100.0
    }

    /// The screen as red, green, blue: the server keeps it as an X window dump.
    fn picture(&self) -> Vec<[u8; 3]> {
        let bytes =
            std::fs::read(self.folder.join("Xvfb_screen0")).expect("the server keeps its screen in a file");
        let word = |at: usize| u32::from_be_bytes(bytes[at..at + 4].try_into().expect("four bytes")) as usize;
        // XWDFile.h: header size first; bytes a line is the thirteenth word, the number of colours the twentieth.
        let (header, line, colours) = (word(0), word(48), word(76));
        let start = header + colours * 12;
        let mut pixels = Vec::with_capacity(WIDTH * HEIGHT);
        for y in 0..HEIGHT {
            for x in 0..WIDTH {
                let at = start + y * line + x * 4;
                pixels.push([bytes[at + 2], bytes[at + 1], bytes[at]]);
            }
        }
        pixels
    }

    /// Waits until `fits` holds of the screen.
    fn wait_until(&self, what: &str, fits: impl Fn(&[[u8; 3]]) -> bool) -> Vec<[u8; 3]> {
        for _ in 0..120 {
            let picture = self.picture();
            if fits(&picture) {
                return picture;
            }
            sleep(Duration::from_millis(500));
        }
        panic!("not within a minute: {what}; the program said:\n{}", self.log());
    }

    fn record(&self) -> String {
        let folder = self.folder.join("data/probeworthy/jobs");
        let mut text = String::new();
        for entry in folder.read_dir().into_iter().flatten().flatten() {
            text.push_str(&std::fs::read_to_string(entry.path()).unwrap_or_default());
        }
        text
    }

    /// What the program has said and kept, and the titles of its windows, do not name the fault that this seed draws.
    fn tells_nothing_of(&self, seed: u64) {
        let scenario = load(default_scenario()).expect("a sound file").scenario.for_seed(seed);
        let fault = draw(&scenario.faults, seed).expect("the pool is not empty");
        let listed = Command::new("xdotool")
            .args(["search", "--name", ".", "getwindowname", "%@"])
            .env("DISPLAY", &self.display)
            .output()
            .expect("xdotool lists windows");
        let titles = String::from_utf8_lossy(&listed.stdout).into_owned();
        assert!(titles.contains("Probeworthy"), "the window has its title: {titles}");
        let record = self.record();
        assert!(record.contains("key lock"), "the record is read: {record}");
        for secret in
            [&fault.id, &words::diagnosis(words::Texts::english(), &scenario.vehicle, fault.diagnosis)]
        {
            for text in [&titles, &record, &self.log()] {
                assert!(!text.contains(secret.as_str()), "\"{secret}\" is told:\n{text}");
            }
        }
    }

    /// While nothing goes on the window is drawn seldom: that takes less than half the work of following a pointer. What is
    /// worked out behind it may take a while to end.
    fn rests(&self) {
        let work = |step: &dyn Fn(u32)| {
            let before = self.busy_secs();
            (0..30).for_each(|moment| {
                step(moment);
                sleep(Duration::from_millis(100));
            });
            self.busy_secs() - before
        };
        let moved = |moment: u32| self.xdotool(&["mousemove", &(300 + 10 * moment).to_string(), "650"]);
        let mut shares = Vec::new();
        for _ in 0..10 {
            let (busy, still) = (work(&moved), {
                sleep(Duration::from_secs(2));
                work(&|_| {})
            });
            shares.push(still / busy);
            if still < 0.5 * busy {
                return;
            }
        }
        panic!("it does not come to rest: {shares:?}");
    }

    fn wait_for_act(&self, act: &str) {
        for _ in 0..60 {
            if self.record().contains(&format!("\"act\":\"{act}\"")) {
                return;
            }
            sleep(Duration::from_millis(250));
        }
        panic!("the record has no act `{act}`:\n{}\nthe program said:\n{}", self.record(), self.log());
    }
}

/// How many different colours there are, coarsely.
fn colours(picture: &[[u8; 3]]) -> usize {
    let coarse = picture.iter().map(|[r, g, b]| (r >> 3, g >> 3, b >> 3));
    coarse.collect::<std::collections::BTreeSet<_>>().len()
}

/// The share of a rectangle's pixels that are as pale as paper.
fn paper(picture: &[[u8; 3]], [left, top, right, bottom]: [usize; 4]) -> f64 {
    let pixels = (top..bottom).flat_map(|y| (left..right).map(move |x| y * WIDTH + x));
    let pale = pixels.filter(|&at| picture[at].iter().all(|&part| part > 180)).count();
    pale as f64 / ((right - left) * (bottom - top)) as f64
}

/// The share of a rectangle's pixels that differ clearly between two pictures.
fn changed(before: &[[u8; 3]], after: &[[u8; 3]], [left, top, right, bottom]: [usize; 4]) -> f64 {
    let mut count = 0;
    for y in top..bottom {
        for x in left..right {
            let (a, b) = (before[y * WIDTH + x], after[y * WIDTH + x]);
            let apart: u32 = a.iter().zip(b).map(|(a, b)| u32::from(a.abs_diff(b))).sum();
            count += usize::from(apart > 40);
        }
    }
    count as f64 / ((right - left) * (bottom - top)) as f64
}

#[test]
fn the_window_shows_the_bay_and_does_what_is_clicked_and_typed() {
    let Some(mut stage) = Stage::set("bay") else { return };
    stage.play(&["play", "--seed", "4"]);
    stage.wait_until("the bay with its many colours", |picture| colours(picture) > 800);
    // The first card, a sheet of paper, is laid aside; a button of the key, on the trolley, is pressed with the mouse.
    let sheet = [460, 160, 860, 440];
    stage.wait_until("the customer's sheet", |picture| paper(picture, sheet) > 0.6);
    stage.key("Escape");
    let shut = stage.wait_until("the car, with the sheet laid aside", |picture| paper(picture, sheet) < 0.2);
    stage.click(1031, 413);
    stage.wait_for_act("key lock");
    stage.key("F10");
    let middle = [460, 160, 860, 440];
    stage.wait_until("the list of everything over the car", |picture| changed(&shut, picture, middle) > 0.5);
    stage.key("Escape");
    stage.wait_until("the car again, with the list closed", |picture| changed(&shut, picture, middle) < 0.2);
    stage.key("F8");
    stage.wait_until("the tailgate's card", |picture| changed(&shut, picture, [50, 90, 170, 300]) > 0.5);
    stage.key("Escape");
    stage.key("F11");
    stage.wait_until("the suspicion sheet", |picture| changed(&shut, picture, middle) > 0.5);
    stage.key("Escape");
    stage.rests();
    assert!(!stage.log().contains("panicked"), "{}", stage.log());
    stage.tells_nothing_of(4);
}

#[test]
fn a_plain_start_shows_the_board_and_a_job_that_was_left_is_gone_on_with_there() {
    let Some(mut stage) = Stage::set("board") else { return };
    stage.play(&["play", "--seed", "4"]);
    let sheet = [460, 160, 860, 440];
    stage.wait_until("the customer's sheet", |picture| paper(picture, sheet) > 0.6);
    stage.key("Escape");
    stage.click(1031, 413);
    stage.wait_for_act("key lock");
    stage.key("F5");
    let bookmark = stage.folder.join("data/probeworthy/jobs/job-0001.ron");
    let kept = (0..40).any(|_| {
        sleep(Duration::from_millis(250));
        std::fs::read_to_string(&bookmark).is_ok_and(|text| text.contains("naming"))
    });
    assert!(kept, "the open card is kept: {}", stage.log());
    stage.end();
    stage.play(&[]);
    let board = [300, 60, 1000, 260];
    stage.wait_until("the board", |picture| colours(picture) > 500 && paper(picture, board) > 0.6);
    // The keyboard is where the job is gone on with. Its card is open again, and the key on the trolley works.
    stage.key("Return");
    for _ in 0..60 {
        stage.click(1031, 413);
        if stage.record().matches("\"act\":\"key lock\"").count() > 1 {
            break;
        }
    }
    assert!(std::fs::read_to_string(&bookmark).is_ok_and(|text| text.contains("naming")), "its card is open");
    assert!(stage.record().matches("\"act\":\"key lock\"").count() > 1, "it goes on: {}", stage.log());
    assert!(!bookmark.with_file_name("job-0002.jsonl").exists(), "no other job was begun");
    assert!(!stage.log().contains("panicked"), "{}", stage.log());
    stage.tells_nothing_of(4);
}

#[test]
fn without_a_display_one_sentence_names_the_text_desk() {
    let output = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .expect("the program starts");
    let said = String::from_utf8_lossy(&output.stderr);
    if cfg!(target_os = "linux") {
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert_eq!(said.trim().lines().count(), 1, "{said}");
        assert!(said.contains("probeworthy desk"), "{said}");
        assert!(output.stdout.is_empty());
    }
}

/// Width and height in a PNG file's head (ISO/IEC 15948, published: after eight bytes of signature, the first chunk).
fn size_of_png(bytes: &[u8]) -> Option<(u32, u32)> {
    let side = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
    bytes.starts_with(b"\x89PNG\r\n\x1a\n").then_some(())?;
    Some((side(16)?, side(20)?))
}

/// Takes a picture, with no display, and the user's folders in `folder`. Gives the exit code and what was said.
fn snap(folder: &Path, screen: &str, out: &Path, arguments: &[&str]) -> (Option<i32>, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_probeworthy"))
        .args(["snap", screen, "--out"])
        .arg(out)
        .args(arguments)
        .env("XDG_DATA_HOME", folder.join("data"))
        .env("XDG_CONFIG_HOME", folder.join("config"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .output()
        .expect("the program starts");
    assert!(done.stdout.is_empty(), "nothing is said on standard output");
    (done.status.code(), String::from_utf8_lossy(&done.stderr).into_owned())
}

#[test]
fn a_screen_is_pictured_without_a_display() {
    if missing().contains(&"mesa-vulkan-drivers") {
        eprintln!("skipped: a picture without a display needs mesa-vulkan-drivers");
        return;
    }
    let folder = tempfile::tempdir().expect("a temporary folder");
    let folder = folder.path();
    let pictured = |screen: &str| {
        let out = folder.join(format!("{screen}.png"));
        let (code, said) = snap(folder, screen, &out, &["--scenario", "first-fuse", "--size", "800x450"]);
        assert_eq!(code, Some(0), "{screen}: {said}");
        let bytes = std::fs::read(&out).expect("a picture");
        assert_eq!(size_of_png(&bytes), Some((800, 450)), "{screen}");
        bytes
    };
    let bay = pictured("bay");
    // One colour throughout would pack into a few kilobytes.
    assert!(bay.len() > 50_000, "the picture holds {} bytes", bay.len());
    assert_ne!(pictured("customer"), bay, "the card is pictured");
    // Nothing hands in but the picture itself.
    let marks = pictured("marks");
    assert_ne!(marks, bay, "the marks are pictured");
    assert_ne!(pictured("marking"), marks, "the sheet before the marks is pictured");
    assert!(!folder.join("data").exists() && !folder.join("config").exists(), "a picture keeps nothing");
}

#[test]
fn what_cannot_be_pictured_is_told_and_leaves_no_file() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let folder = folder.path();
    std::fs::write(folder.join("file"), "").expect("a writable folder");
    std::fs::write(folder.join("torn.script"), "cautions\nknit\n").expect("a writable folder");
    std::fs::create_dir(folder.join("folder.png")).expect("a writable folder");
    let torn = folder.join("torn.script").to_string_lossy().into_owned();
    // Screen, file, further arguments; what is said, and what mends it.
    let cases: [(&str, &str, &[&str], &str, &str); 20] = [
        ("bey", "a.png", &[], "there is no screen \"bey\"", "hint: the screens are bay, near, "),
        ("bay", "a.jpg", &[], "a.jpg: a picture is a PNG file", "hint: let its name end in .png"),
        ("bay", "a", &[], "a: a picture is a PNG file", "hint: let its name end in .png"),
        ("bay", "nowhere/a.png", &[], "a.png: the picture is not written: ", "hint: name a file in a folder"),
        ("bay", "file/a.png", &[], "a.png: the picture is not written: ", "hint: name a file in a folder"),
        (
            "bay",
            "folder.png",
            &[],
            "folder.png: the picture is not written: ",
            "hint: name a file in a folder",
        ),
        ("bay", "a.png", &["--size", "0x0"], "\"0x0\" is no size", "from 320 to 8192, such as 1280x720"),
        ("bay", "a.png", &["--size", "10x10"], "\"10x10\" is no size", "from 320 to 8192"),
        ("bay", "a.png", &["--size", "100000x100000"], "\"100000x100000\" is no size", "from 320 to 8192"),
        ("bay", "a.png", &["--size", "1280"], "\"1280\" is no size", "such as 1280x720"),
        ("bay", "a.png", &["--size", ""], "\"\" is no size", "such as 1280x720"),
        (
            "bay",
            "a.png",
            &["--text", "0"],
            "'0' for '--text <PERCENT>'",
            "write a whole number from 100 to 200",
        ),
        (
            "bay",
            "a.png",
            &["--text", "99"],
            "'99' for '--text <PERCENT>'",
            "write a whole number from 100 to 200",
        ),
        (
            "bay",
            "a.png",
            &["--text", "201"],
            "'201' for '--text <PERCENT>'",
            "write a whole number from 100 to 200",
        ),
        (
            "bay",
            "a.png",
            &["--text", "abc"],
            "'abc' for '--text <PERCENT>'",
            "write a whole number from 100 to 200",
        ),
        ("bay", "a.png", &["--language", "xx"], "'xx' for '--language <TAG>'", "the languages are en, de"),
        (
            "bay",
            "a.png",
            &["--scenario", "first-fuze"],
            "no scenario \"first-fuze\"",
            "did you mean \"first-fuse\"?",
        ),
        ("bay", "a.png", &["--scenario", "none.scenario.ron"], "none.scenario.ron: ", "cannot be read"),
        ("bay", "a.png", &["--script", "none.script"], "none.script: ", "cannot be read"),
        ("marks", "a.png", &["--script", &torn], "torn.script:2:1: ", "hint: "),
    ];
    let left = || {
        let all = std::fs::read_dir(folder).expect("a folder");
        let mut names: Vec<_> = all.map(|entry| entry.expect("an entry").file_name()).collect();
        names.sort();
        names
    };
    let before = left();
    for (screen, out, arguments, what, mend) in cases {
        let (code, said) = snap(folder, screen, &folder.join(out), arguments);
        let told = format!("{screen} {out} {arguments:?}: {said}");
        assert_eq!(code, Some(2), "{told}");
        assert!(said.contains(what) && said.contains(mend), "{told}");
        assert!(said.lines().count() <= 6, "one clear message: {told}");
        assert_eq!(left(), before, "{told}");
    }
}
