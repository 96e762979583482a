# The interface's texts in English, the language that others are translated from. See README.md beside this file.

## Language

# The language's own name, in itself: `English`, `Deutsch`, `Français`.
language-name = English

## Settings

settings-sound = Sound. Every sound stands in words, too.
settings-less-motion = Less motion: lids and doors are put where they go, and do not swing.
settings-text-size = Size of text
settings-light = Light
settings-dim = Dim room
settings-bright = Bright room
settings-language = Language
settings-names = A job without a translation shows its title and the customer's words as they were written.

## The job sheet on its board: short, a line has room for some twenty letters. In brackets the key that opens it

sheet-customer = Customer  (F2)
sheet-findings = Findings  (F3)
sheet-diagram = Diagram  (F4)
sheet-suspects = Suspects  (F11)
sheet-coach = Coach  (F12)
sheet-name = Name fault  (F5)
sheet-write = Write up  (F6)
sheet-hand-in = Hand in  (F7)
sheet-keys = Keys  (F1)
sheet-jobs = Board  (Home)
sheet-settings = Settings  (End)
sheet-file = File  (Insert)
sheet-marks = Marks
# On the clipboard where there is no job.
sheet-no-job = No job in hand
sheet-no-job-about = Begin one at the board.

# What has been spent on parts, beside the clock.
sheet-parts = parts { $cost }

# The clock of the job.
sheet-minutes = { $minutes } min

## Cards: their titles

close = Close
card-cabin = in the cabin
card-front = under the bonnet
card-key = key
card-fuse-tray = spare fuses
card-meter = meter
card-clamp = current clamp
card-recorder = Recorder
card-customer = The customer
card-findings = What was found
card-naming = Name the fault
card-suspicions = What you suspect
card-coach = The coach
card-writing = Write-up
card-handing-in = Hand in
card-diagram = Wiring diagram
card-shelf = The board
card-everything = Everything, by name
card-settings = Settings
card-author = The scenario's file
card-help = Keys and ways of working

## Points that a lead touches, and what is on them

lead-red = red
lead-black = black

# Marks beside a point: what is on it. Short.
mark-lamp-5 = 5 W
mark-lamp-21 = 21 W
mark-bridge = bridge
mark-battery-plus = bench +
mark-battery-minus = bench −
mark-recorder-plus = rec. +
mark-recorder-minus = rec. −
mark-clamp = clamp

# The same in a sentence: beside a point, and of a cavity for a screen reader.
lead-red-here = red lead here
lead-black-here = black lead here
mark-lamp-5-here = a clip of the 5 W test lamp here
mark-lamp-21-here = a clip of the 21 W test lamp here
mark-bridge-here = a clip of the fused bridge here
mark-battery-plus-here = the bench battery's plus clip here
mark-battery-minus-here = the bench battery's minus clip here
mark-recorder-plus-here = the recorder's plus lead here
mark-recorder-minus-here = the recorder's minus lead here
mark-clamp-here = the clamp here

point-take-first = Take a probe or a clip in hand to put it here.
point-goes = What is in hand goes where you touch.
point-take-red-off = Take the red probe off
point-take-black-off = Take the black probe off
point-bare-metal = Bare metal
point-out-of-reach = Out of reach: { $why }.

## The card of a connector

connector-unplug = Unplug
connector-plug = Plug together
connector-look = Look closely
connector-mated = Plugged together: you back-probe, with the circuit as it works.
connector-open = Unplugged: you front-probe, and what hung on this connector loads nothing.
connector-body-half = body half
connector-lid-half = half on the { $lid }
connector-loom-half = loom half
connector-own-pins = the part's own pins
connector-scale = 5 mm. Each half is seen into its mating side, latch up: one mirrors the other.
connector-scale-one = 5 mm. Seen into its mating side, latch up.
connector-cavity-title = Cavity { $cavity }:
connector-tug = Tug the wire
connector-terminal = Clean, set right or renew the contact ({ $price } units, 10 min)

# With another cavity: the button beside this list changes two terminals over.
connector-with = with { $cavity }
connector-swap = Change terminals over (10 min)
connector-touch-cavity = Touch a cavity with an empty hand to tug its wire, or to put its contact right.

# With the repair kit or the cleaner in hand.
connector-which-cavity = Touch the cavity whose contact is to be cleaned, set right or renewed; the two halves have to be apart.

# Names of cavities for a screen reader and under the pointer.
connector-cavity = cavity { $cavity }, { $wire }
connector-pin = pin { $cavity }
connector-no-wires = No wire of the circuits in question ends here: there is nothing to open and nothing to measure.
connector-empty = cavity { $cavity }, empty
# On the half with the pins, where one was seen bent.
connector-pin-bent = the pin is bent aside
# Such a name, with what is on the cavity or was seen there.
connector-cavity-more = { $cavity }; { $more }
part-fit = Fit a new { $part } ({ $price } units, { $minutes } min)
part-read-memory = Read memory
part-clear-memory = Clear memory
part-tap = Tap it

# Of a heated screen. The number follows.
screen-line = line{" "}

# Follows a number: 3 of 8 parts of the way along the line, counted from the busbar that is fed.
screen-place = of { $sections } from the fed bar
screen-glass = line { $line }, { $place }/{ $sections } from the fed bar: touch it with what is in hand
screen-put = Put what is in hand there
screen-paint = Paint section { $section } of line { $line } ({ $price } units, 15 min)
place-warm = Warm it with a heat gun
place-cool = Cool it with spray

## The card of a station of the loom, of a stud, of a panel

station-flex = Flex the loom here
station-tape = Open the tape and look (4 min)
# In place of station-tape where the tape is open.
station-again = Look again (4 min)
station-found = With the tape open, at { $minutes } min: { $found }
# { $mended } is loom-spliced or loom-twisted.
station-mended = Mended, at { $minutes } min: { $mended }
station-conductors = A conductor here:
station-choose = Choose one to mend it here, or to close the clamp round it.
station-splice = Splice, heat-shrink, strain relief ({ $price } units, 20 min)
station-twist = Twist and tape ({ $price } units, 5 min)
station-clamp = Part it from the loom and close the clamp round it
stud-look = Look, and try it with a finger
stud-clean = Clean stud and eyelet, tighten (8 min)
stud-thread = Thread of the stud
panel-back = Put it back ({ $minutes } min)
panel-off = Take it off or fold it ({ $minutes } min)

## The card of the lid

lid-shut = Shut, held by its latch.
lid-first-catch = On its first catch.
lid-at-open-propped = At { $degrees }°, claw open, propped.
lid-at-open-unpropped = At { $degrees }°, claw open, not propped.
lid-at-closed-propped = At { $degrees }°, claw closed, propped.
lid-at-closed-unpropped = At { $degrees }°, claw closed, not propped.
lid-open-fully = Open it fully
lid-push-shut = Push it shut
lid-let-down = Let it onto its first catch
lid-angle = angle
lid-hold = Hold it there
lid-prop = Prop it
lid-secure = Secure it
lid-from-above = Seen from above.
lid-claw = Close the latch's claw with a tool
lid-lever = Pull the lever inside
lid-force = Force the latch through the trim (20 min)
lid-look = Look and listen
lid-is-wet = The rear is wet.
lid-wet = Wet the rear with a spray bottle
lid-dry = Blow it dry
lid-wait = Wait { $minutes } min
latch-claw = claw
latch-pawl = pawl
latch-striker = striker
latch-holds = The claw is closed about the striker and holds the { $lid }.
latch-first-catch = The claw has turned half the way and holds the striker on its first catch.
latch-closed-empty = The claw is closed with no striker in it.
latch-waits = The claw is open for the striker.

## The card of the cabin

cabin-switches = Switches
cabin-press = Press the { $part }
cabin-lever = Pull the lever inside, over the seat back

# Opens the card of a panel or seat.
cabin-panel = { $panel } ...
cabin-lockout = Release lockout
# Beside it, until it has been set: nobody has seen how it stands.
cabin-lockout-untried = Not tried yet
state-on = On
state-off = Off
# For a screen reader: one of two states of a switch or a setting.
state-of = { $what }: { $state }
cabin-fuses = Fuses: feed side left, load side right
cabin-feed-side = { $fuse }, feed side
cabin-load-side = { $fuse }, load side
cabin-rating = { $fuse }, { $amps } A
fuse-chosen = { $fuse }: { $stands }
fuse-is-out = its slot is empty
fuse-not-looked-at = nobody has looked at it yet
fuse-was-whole = its strip was whole
fuse-was-blown = its strip had melted
fuse-was-loose = it sat loosely in its clips
fuse-look = Look at it
fuse-pull = Pull it
fuse-put-back = Push it back
fuse-clips = Close its clips
fuse-fit = Fit new { $amps } A
cabin-open = Open: { $connector }
fuse-new = New fuses, in amps:
fuse-as-slot = As the slot says
fuse-amps = { $amps } A

## Under the bonnet, the key, tools

front-eyes = Protect your eyes here.
front-glasses-on = Safety glasses are on
front-put-glasses-on = Put safety glasses on
front-prove-meter = Prove the meter on the battery
front-charge = Charge the battery (40 min)
front-volts = 12 V
front-plus = Plus post
front-minus = Minus post
key-lock = Lock
key-unlock = Unlock
key-release = Release the { $lid }
key-about = It has a mechanical blade as well. Inside lies its cell.
key-new-cell = New cell ({ $price } units)
key-new = New key, programmed ({ $price } units, 25 min)
key-plus = Plus contact of the cell
key-minus = Minus contact of the cell
tray-about = Choose a rating here; fit it at the slot, in the cabin.
tray-meter-fuse = Fit a new fuse in the meter
tool-take = Take it in hand
tool-about-lamp-5 = Draws 0.4 A at 12 V: lit only where the circuit can carry that. Not for a module's signal wires.
tool-about-lamp-21 = Draws 1.8 A at 12 V, as a brake lamp does: glows dimly behind a poor joint that a meter or the small lamp would not show.
tool-about-bridge = Joins two points through a fuse of 10 A: stands in for a wire, a switch or a contact. Never across a load.
tool-about-bench = 12 V of its own behind a fuse: works a part by itself, away from the vehicle's wiring.
group-vehicle = The vehicle
group-loom = The loom
group-meter = The meter
group-tools = Tools and key
tool-first-plus = Its first clip is plus.
tool-on = On { $from } and { $to }.
tool-blown = Its fuse has blown; it gets a new one when it is clipped on anew.
tool-off = Take it off
meter-let-go = Let the least and the greatest go
meter-hold = Hold the least and the greatest
meter-hasty = Probe hastily: a third of the time, and it may land next door
meter-where = Look and listen: where are the probes?
clamp-goes = It goes round the wire of a cavity, or the cable at the battery's plus post.
clamp-station = Along the loom: open a station, and choose the conductor there.
clamp-round = Round { $what }.

## The customer, findings, write-up, hand-in

# The customer's own words.
customer-says = "{ $words }"
customer-before = Before you touch the car
customer-read = I have read the cautions
customer-again = The cautions, read
customer-ask = Ask (a minute each)
findings-none = Nothing yet.

# Heads of columns. Short.
findings-clock = Minutes
findings-done = What was done
findings-found = What it showed
writing-about = Three lines. Give the readings that show the cause and the repair.
writing-write = Write it down
writing-count = { $count } of 3 lines written.
hand-in-about = Handing in ends the job: the fault is shown and the marks are given.
hand-in-about-paper = Handing in ends the job and closes its record. What it was worth is told by whoever set the paper.
hand-in-named = Named: { $fault } ({ $percent } %)
hand-in-unnamed = No fault has been named.
hand-in-lines = Write-up: { $count } of 3 lines.
hand-in-left = Not put back: { $what }.
hand-in-agreed = The customer has agreed to { $units } units.
hand-in-untold = The customer has not been told what it will cost.
hand-in-repaired = Hand in as repaired
hand-in-refer = I cannot confirm it: refer with this evidence

## Keys and ways of working

help-touch = Touch what you want to work on. Tools are touched as they are; signs mark what can be reached on the car now:
help-probe = Take a probe at the meter's sockets, then touch a cavity, a fuse's side, a stud or a post.
help-tools = Test lamps, bridge and bench battery lie on the trolley; each has two clips, and stays where it is put.
help-hand-tools = Trim tool, repair kit and contact cleaner hang on the trolley's back. Take one, and touch: the trim tool takes a panel off or opens the loom's tape; the other two open the repairs of a place, to choose from.
help-recorder = The current clamp and the recorder hang on the wall; armed, the recorder takes down the next act.
help-lid = Leads stay in place when the rear is opened or shut: watch the meter from outside.
help-minutes = Every act takes minutes; parts cost money. Outcomes stand at the bottom and under Findings.
help-tab = Tab, Shift+Tab: from one place to the next.  Enter or Space: touch it.  Page Up, Page Down: what is longer than its card.
help-esc = Esc: lay down what is in hand, or close the card.
help-nearer = A click on the car beside the signs, or the wheel: go nearer; drag to look elsewhere.  +  −  Backspace: nearer, farther, the whole bay.  Arrows, with no card open and nothing chosen (Esc): look elsewhere.
help-keys-1 = F1 keys  ·  F2 customer  ·  F3 findings  ·  F4 diagram
help-keys-2 = F5 name the fault  ·  F6 write up  ·  F7 hand in
help-keys-3 = F8 lid or rear door  ·  F9 key  ·  F10 everything by name
help-keys-4 = F11 what you suspect  ·  F12 the coach  ·  Home the board  ·  End settings
help-keys-5 = 1 trim tool  ·  2 repair kit  ·  3 contact cleaner: take it, or lay it down

# What a sign on the drawing marks. Short.
sign-connector = connector
sign-lamp = lamp's connector
sign-loom = loom
sign-panel = panel or seat
sign-stud = ground stud
sign-metal = bare metal
sign-handle = to pull or lift
sign-button = to press
sign-fuse = fuse
sign-thing = anything else

## What an act brought, at the lower edge

caption-refused = Not possible: { $why }.
caption-heard = Heard: { $what }
caption-seen = Seen: { $what }
caption-others-dark = all other lamps are dark
caption-meter = Meter: { $reading }
caption-clamp = Clamp: { $reading }
caption-recorder = Recorder: { $reading }
caption-more = and more, under findings (F3)
caption-breach = Gone against: { $caution }
caption-in-hand = In hand: { $what }. Touch a cavity, a fuse's side, a stud or a post; its own place, or Esc, lays it down.
hand-red-probe = red probe
hand-black-probe = black probe
hand-clamp = current clamp
hand-clamp-not = current clamp. It closes round one wire of a connector or of the loom, or round the battery's plus cable, and not round { $point }.
hand-recorder-plus = recorder, plus lead
hand-recorder-minus = recorder, minus lead (plus is on { $point })

# With one of these in hand: what a touch does.
hand-trim = In hand: trim tool. Touch a panel to take it off or put it back, a place of the loom to open its tape; Esc lays it down.
hand-repair = In hand: repair kit. Touch a place of the loom or a connector: its card offers the repairs, with their price; Esc lays it down.
hand-cleaner = In hand: contact cleaner. Touch a connector or a stud: its card offers the cleaning; Esc lays it down.

# What a touch does there with what is in hand, under the pointer: loom: hinge – Open the tape and look (4 min)
tool-would = { $place } – { $act }
tool-repair-here = choose a repair
tool-clean-here = choose what to clean
hand-first-clip = { $tool }, first clip
hand-second-clip = { $tool }, second clip (the first is on { $point })
trouble-another = Begin another job
trouble-understood = Understood
trouble-time-up = The time is up: nothing but handing in is taken any more.
trouble-no-answer = The coach knows no answer here: { $why }.
trouble-not-worked-out = What the steps are worth cannot be worked out.
trouble-ended = Something unforeseen has ended what was worked out behind the window. What has been done is kept.
trouble-not-handed-in = The job in this record has not been handed in.
trouble-marks-not-kept = The marks could not be kept with the job: { $why }
trouble-no-folder = there is no folder for your data
trouble-job-not-kept = This job will not be kept: { $why }

## Places on the drawing, and in the list of everything by name

# What the car is drawn as, where it has no drawing of its own.
spot-borrowed = drawn as an estate car; its wiring is under F4

# A lead and where it is: red: latch.3
spot-lead = { $lead }: { $point }
spot-lid = { $lid } (F8)
spot-press = press the { $part }
spot-lever = lever inside, over the seat back: pull
spot-loom = loom: { $station }
spot-cabin = cabin: fuses, switches, lockout
spot-front = under the bonnet: battery
spot-key-lock = key: lock
spot-key-unlock = key: unlock
spot-key-release = key: release the { $lid }
spot-key = key: look closer (F9)
spot-meter-off = meter: off
spot-meter-volts = meter: volts
spot-meter-low-z = meter: volts, low impedance
spot-meter-ohms = meter: ohms
spot-meter-tone = meter: continuity tone
spot-meter-diode = meter: diode test
spot-meter-amps = meter: amps, in line only
spot-meter-capture = meter: hold the least and the greatest
spot-red-take = red probe: take it
spot-red-back = red probe: hang it back
spot-black-take = black probe: take it
spot-black-back = black probe: hang it back
spot-meter = meter: look closer
spot-clamp = current clamp
spot-recorder = recorder: volts and amps over time
spot-trim-take = trim tool: take it (1)
spot-lay-down = { $tool }: lay it down
spot-trim-back = trim tool: lay it down (1)
spot-repair-take = repair kit with solder and sleeves: take it (2)
spot-repair-back = repair kit: lay it down (2)
spot-cleaner-take = contact cleaner: take it (3)
spot-cleaner-back = contact cleaner: lay it down (3)
spot-fuse-tray = spare fuses and the meter's own

# On the meter's display, small.
display-tone = tone

## Going nearer

near-go = Go nearer
near-go-key = Key: plus
near-whole = Whole bay
near-whole-key = Key: Backspace
near-whole-with-key = Whole bay (Backspace)
near-clock = { $minutes } min, parts { $cost }
near-meter = meter: { $reading }
near-clamp = clamp: { $reading }

## The loom in hand

loom-bend = loom at { $station }: bend it
loom-along = along the loom to { $station }
loom-along-open = along the loom to { $station }, open there

# Above the name of a station on the ribbon: where the learner is, and whose tape has been opened. Short.
loom-here = here
loom-open = open
loom-here-open = here, open
loom-wires = { $count } wires. Drag the loom to bend it and watch the meter.
# What has been mended on the loom: on its card, and for a screen reader.
loom-spliced = { $wire } has been spliced and sleeved here
loom-twisted = { $wire } has been twisted together and taped here

# On the meter's display while it holds the least and the greatest: before and after there are any.
display-holds = min max
display-held = min { $least }  max { $greatest }
# For a screen reader: the same with what stands beside it.
display-with = { $reading }; { $more }

## Marks and debrief

marks-marks = Marks
marks-steps = Step by step
marks-another = Another job
marks-others = The board
marks-car = Look at the car again
marks-truth = The fault was: { $fault }
marks-named = You named: { $fault } ({ $percent } %)
marks-of = { $marks } of { $most }
marks-total = Total { $marks } of 100
# Of a job that was handed on to somebody else.
marks-referred = The job was referred on, so parts, time and proof count only as far as the diagnosis: { $percent } %.
marks-scaled = All but safe work counts by how far the job got: { $percent } %.
marks-handed-in = Handed in
marks-closed = The record is closed and sealed. Your instructor gives the marks.
marks-end = Close the window
marks-close-window = Close the window; the next job of the paper begins when you sit down to it again.
marks-none = There are no marks for it. The record is kept, so that it can be tried again from the board.
marks-weighing = Every step is weighed against what else could have been done. This takes some seconds; in a large job up to a minute.
debrief-curve = What was still possible, in bits, over the minutes

# What the columns tell, a line each. They begin with the column's name, as below.
debrief-legend-told = told: what the step told, in bits; one bit halves what is possible. Below 0 it made less certain.
debrief-legend-expected = expected: what it could be expected to tell before it was done. A lucky outcome tells more, another one less.
debrief-legend-left = left: causes that are still possible, in groups that the same repair mends.
debrief-legend-lost = lost: minutes, beside what the best choice could be expected to take.

debrief-clock = clock
debrief-told = told, bits
debrief-expected = expected, bits
debrief-left = left
debrief-lost = lost
debrief-done = what was done
debrief-bits = bits
debrief-plan-done = what is done
debrief-plan-title = The plan on the same fault
debrief-practise = Practise next: { $what }
debrief-minutes = minutes
debrief-the-plan = the plan

# The learner's own line in a plot.
debrief-you = you
debrief-plot = plot of what was still possible over the minutes; the table below has the same in figures

## The coach

coach-rungs = Each rung says more than the one before. A rung costs its marks once, until something has been done.
coach-thinking = The coach is thinking.
coach-again = Hear again what he said last, for nothing
coach-since = Something has been done since: it may no longer hold.

## The recorder

recorder-take = Take its leads in hand
recorder-first-plus = The first lead is its plus.
recorder-on = Plus on { $plus }, minus on { $minus }.
recorder-off = Take its leads off
recorder-arm = Arm it
recorder-disarm = Disarm it
recorder-armed = Armed: it takes down the next act that works the car or joins or parts the circuit.
recorder-about = It takes down volts by its leads and amps by the clamp. Armed, it does so with the next act.
recorder-last = Last: { $act }

## Naming a fault, and the estimate

naming-wire = a wire
naming-connector = a connector or a terminal in it
naming-part = a part or a module
naming-fuse = a fuse or its clips
naming-ground = a ground stud
naming-other = the key, the battery or a setting
naming-as-a-whole = as a whole
naming-cavity = cavity { $cavity }
naming-line = line { $line }, section { $section }
naming-choose = choose
choosing-find = type to find
choosing-none = nothing is called that

# In a list that has nothing to choose from before the one above it is filled in.
naming-later = after the line above

# Labels before lists: what is faulty, which one, in what way, where, how sure.
naming-what = What
naming-which = Which
naming-way = In what way
naming-where = Where
naming-sure = How sure
naming-name = Name it
naming-so-far = Named so far: { $fault } ({ $percent } %). The last name counts.
estimate-about = The customer wants to know what it will cost before anything is mended. By now it is { $so_far } units; an hour is { $hour } units, parts come on top.
estimate-in-all = Your price in all

# Follows a sum of money: 100 units. Money has no name of a country's.
estimate-unit = {" "}units
estimate-tell = Tell the customer
estimate-agreed = The customer has agreed to { $units } units. The last word counts.

## The suspicion sheet

suspicions-about = For yourself: it takes no time and earns no marks. After the hand-in you see how well you weighed it.
suspicions-suspect = Suspect it with { $percent } %
suspicions-none = Nothing is on the sheet yet.
suspicions-strike = Strike out

# For a screen reader.
suspicions-strike-this = Strike out: { $fault }

## The board

board-next = Go on and practise
board-jobs = All jobs
board-records = Records
board-settings = Settings
# { $title } is the job's.
board-in-hand = In hand: { $title }. It is kept as it stands. If you leave it, it waits here until you go on with it.
board-in-hand-not-kept = In hand: { $title }. This job is not kept: if you leave it, what has been done in it is lost.
board-back = Back to it
board-leave = Leave this job
board-left = Jobs that were left
board-go-on = Go on
# What a screen reader says of the button; { $when } is "3 hours ago".
board-go-on-with = Go on: { $title }, { $when }
board-put-away = Put away
board-put-away-this = Put away: { $title }, { $when }
board-put-away-about = It is listed here no longer. Its file moves into the folder put-away, beside the others.
board-left-when = Last worked on: { $when }; { $minutes } min on its clock.
board-in-use = Open just now.
board-done = Jobs that have been handed in, the latest first
board-marked = { $date }: { $total } of 100
board-unmarked = { $date }: handed in, the marks have not been worked out.
# A file among the records that is none, and why.
board-unreadable = This is no record that can be read: { $why }
board-open = Open
# What a screen reader says of the button; { $told } is "2026-03-01: 71 of 100".
board-open-this = Open: { $title }, { $told }
# The sheet of a record.
record-cannot = This record cannot be shown, and is left as it is. { $why }
record-replayed = The job is played again as it stands in its record, and every step weighed against what else could have been done.
record-back = Back to the board
ago-now = just now
ago-minutes =
    { $count ->
        [one] a minute ago
       *[other] { $count } minutes ago
    }
ago-hours =
    { $count ->
        [one] an hour ago
       *[other] { $count } hours ago
    }
ago-days =
    { $count ->
        [one] a day ago
       *[other] { $count } days ago
    }
shelf-practise = To practise next
shelf-begin = Begin
shelf-first = The first job, step by step
shelf-all = All jobs, the easiest first

# Heads of columns. Short.
shelf-title = Job
shelf-difficulty = Difficulty
shelf-minutes = Minutes
shelf-skill = Practises
shelf-best = Best mark
shelf-of-five = { $difficulty } of 5

# Where a job has not been done yet.
shelf-no-mark = –

# The same in one line.
shelf-figures = difficulty { $difficulty } of 5, { $minutes } min, { $skill }, best mark { $best }

# Why a job is suggested: a sentence. { $skill } is one of the skills below.
shelf-why-first = The place to begin: { $minutes } minutes of work on one fault, and you see how the bay is used.
shelf-why-new = You have not yet done a job in { $skill }; this one is difficulty { $difficulty } of 5.
shelf-why-further = Another job in { $skill } that you do not know yet, difficulty { $difficulty } of 5.
shelf-why-badly =
    { $jobs ->
        [one] You did this job last, and it went badly: try it again. It practises “{ $skill }”.
       *[other] It went badly when you last did this job, { $jobs } jobs ago: try it again. It practises “{ $skill }”.
    }
shelf-why-keep-up =
    { $jobs ->
        [one] You did this job last, and it went well; once more keeps you in practice in “{ $skill }”.
       *[other] It went well when you last did this job, { $jobs } jobs ago; once more keeps you in practice in “{ $skill }”.
    }

# For a screen reader: the button's words and the scenario's title.
shelf-begin-this = { $begin }: { $title }

# The vehicle and the circuit.
shelf-about = { $vehicle }; { $circuits }
shelf-progress = How far you have come
shelf-progress-about = Your share of the marks in each skill: the last job counts half, the one before it a quarter, and so on.
shelf-none = No job has been handed in yet on this machine.
shelf-marks = Marks out of 100, job by job
shelf-plot = marks of all jobs: { $marks }

## The wiring diagram

diagram-image = wiring diagram
# For a screen reader: what is on a point, and which point that is.
diagram-probe = { $what }: { $point }
# The last line of a list of them that is too long for its place; two at least.
diagram-probes-more = and { $count } more
diagram-drawn = Drawn
diagram-in-words = In words
diagram-nearer = Nearer
diagram-further = Farther
diagram-whole = Whole sheet
# A list of all that is drawn: the keyboard's way to touch something on the sheet.
diagram-by-name = Choose by name
diagram-readings = every reading, against battery minus
diagram-moving = Drag or arrow keys move it, the wheel or + and - bring it nearer.
diagram-pins = Pin tables
diagram-conductors = Conductors
diagram-loom = Loom
diagram-places = Places
diagram-instruments = Instruments
diagram-touch = Touch a wire, a cavity or a symbol to see what it is, or to mark it.
diagram-good = proven good
diagram-suspect = suspect
diagram-unknown = not known
diagram-show = Show it on the vehicle
thing-conductor = { $conductor }, { $size } mm²
thing-at-station = { $conductor } at the { $station }

# Written on the sheet beside pins and symbols. Short.
drawn-supply = supply
drawn-ground = ground
drawn-feed = feed
# What hangs together on one pin.
drawn-common = common
drawn-coil = coil
drawn-contact = contact
# A latch's motor or solenoid, the switch that tells that it is open, and the one that tells that its claw is home.
drawn-drive = drive
drawn-ajar = ajar
drawn-claw-home = claw home

## The first job, step by step

first-title = Your first job here
first-about = A hatchback's lid does not open. Find out why, mend it and prove it, with a note beside you that tells each step: it takes a few minutes. It is a job like any other, and is marked like one.
first-show = Show me
first-know = I know my way
first-settings = Settings (End)
first-step = Step { $step } of { $all }
first-no-more = No more notes
first-step-1 = On the left hangs the job sheet. The customer's words are open now: read them, and the cautions below, and acknowledge those. Then close the card with Esc.
first-step-2 = See the complaint for yourself. Touch the key on the trolley at the right, or press F9, and press its release button. What is seen and heard stands in words at the lower edge.
first-step-3 = The car chirps, so key and module work; but the latch does not move. What feeds the latch? Open the wiring diagram with F4, find fuse F1, then close the diagram.
first-step-4 = Now measure. Touch the meter's knob at V (on the right).
first-step-5 = The black probe goes to the battery's minus. Touch the battery on the picture on the wall, and put on the safety glasses there: a battery can burst. Then take the black probe at its socket on the meter and touch minus.
first-step-6 = The fuses are in the cabin: touch it on the picture on the wall. Take the red probe and touch F1 on its load side, the right one: behind a whole fuse is the battery's voltage. The card stays open while you fetch the probe.
first-step-7 = Nothing arrives behind the fuse: it is open, or nothing comes to it. Take the red probe again and touch F1's feed side, the left one.
first-step-8 = Volts before the fuse, none behind it: the fuse is open. That is proof, and took three minutes. Name the fault with F5: fuse F1, blown. Say there, too, what it will cost.
first-step-9 = Back in the cabin touch F1 and fit a new one of the same rating. A larger one would be a fire in the making.
first-step-10 = Prove the repair: take the probes off, leave the lid shut and press the key's release again.
first-step-11 = Every job ends so: shut the lid again (F8), try what lies beside (unlock with the key: the indicators flash), write down complaint, cause and correction (F6), and hand in (F7). Then you see what each step was worth.

## The instructor's sheet

author-slip = The file has a slip in it: mend that first.
author-not-saved = { $path } was not saved: { $why }
author-save = Save the file
author-undo = Undo what was changed here
author-comments = Comments and layout stay as they are.
author-broken = The file as it is now saved cannot be played. The bay shows it as it was before.
author-parted = It was saved elsewhere while something was changed here. Save the file writes over that; undo takes it.
author-trying = It is sound. Every fault's trials are being played.
author-sound = It is sound, and every fault gives the complaint. What is saved elsewhere is followed at once.
author-found = It can be played, but this was found:
author-words = Words and marks
author-pool = The pool
author-here = Here
author-try = Try it

# Heads of columns. Short.
author-weight = Weight
author-share = Share
author-fault = Fault

# For a screen reader: buttons of a row, with the fault they are about.
author-try-this = Try it: { $fault }
author-weight-of = Weight of: { $fault }
author-take-out = Take out
author-take-out-this = Take out: { $fault }
author-one-more = One more entry of the pool
author-add = Add it
author-title = Title
author-customer = What the customer says
author-other-words = Other words that he may say instead, a line each
author-words-elsewhere = The title and these words in other languages are changed in the file, at titles and words.
author-varies = Drawn anew for each job:
author-varies-cavities = cavities
author-varies-colours = colours of wires
author-varies-stations = places along the loom
author-varies-words = the customer's words
author-par = Par time

# After a number.
author-min = {" "}min
author-par-name = Par in minutes
author-yard = Temperature
author-celsius = Temperature of the yard
author-locked = locked
author-wet = wet
author-coach = the coach may be asked
author-kit = May be used:
kit-meter = meter
kit-lamp = lamp
kit-bridge = bridge
kit-bench = bench
kit-clamp = clamp
kit-recorder = recorder
author-limited = limited to
author-limit-name = Minutes until it can only be handed in
author-limit = on the job's clock; then it can only be handed in
author-marks = Weights of the marks
author-weight-diagnosis = diagnosis
author-weight-reasoning = reasoning
author-weight-parts = parts
author-weight-time = time
author-weight-proof = proof
author-weight-safety = safety
author-weight-name = Weight of { $part }

## What can be named on a vehicle

# A thing that can be faulty.
component-key = key
component-battery = battery
component-lockout = release lockout setting

# Points that a lead can touch.
point-body = bare metal of the body
point-cavity = { $connector }, cavity { $cavity }
# In place of a connector: the half that the loom does not have.
point-own-pins = { $connector }, the part's own pins
point-fuse-feed = { $fuse }, feed side
point-fuse-load = { $fuse }, load side
point-battery-plus = battery, plus post
point-battery-minus = battery, minus post
point-key-plus = key cell, plus contact
point-key-minus = key cell, minus contact
point-line = { $part }, line { $line }, { $place }/{ $sections } of the way
tool-lamp-5 = 5 W test lamp
tool-lamp-21 = 21 W test lamp
tool-bridge = fused bridge
tool-bench-battery = bench battery
clamp-place-station = { $conductor } at { $station }
clamp-place-cavity = the wire of { $point }
clamp-place-battery = the battery's plus cable

# The meter's settings.
setting-off = off
setting-volts = volts
setting-low-z = volts, low impedance
setting-ohms = ohms
setting-tone = tone
setting-diode = diode
setting-amps = amps
precaution-read = read the cautions
precaution-eyes = put safety glasses on
precaution-prop = prop the lid or door

# The three lines of the write-up.
write-up-complaint = Complaint
write-up-cause = Cause
write-up-correction = Correction

## Kinds of faults

kind-open = open
kind-high-resistance = high resistance
kind-short-to-ground = short to ground
kind-short-between = short to another conductor
kind-short-inside = short inside
kind-crossed = crossed
kind-blown = blown
kind-wrong-part = wrong part
kind-loose = loose
kind-stiff = stiff
kind-jammed = jammed
kind-worn = worn: works where it happens to touch
kind-stuck-on = stuck on: never lets go
kind-stays-awake = stays awake: draws current when it should sleep
kind-dead = dead: has what it needs and gives nothing
kind-deaf = deaf: is told and does not hear
kind-flat = flat
kind-setting-left-on = setting left on

# A fault in words: what is faulty, in what way, and where. Several are joined by fault-and.
diagnosis-whole = { $component }: { $kind }
diagnosis-station = { $component }: { $kind }, at the { $station }
diagnosis-cavity = { $component }: { $kind }, cavity { $cavity }
diagnosis-line = { $component }: { $kind }, line { $line }, section { $section }
fault-and = { $one }, and { $other }

# A fault with more about it, where another one reads alike: when it is there, or how bad it is. One or several of what follows.
fault-with = { $fault }, { $what }
fault-lid-below = opened less than { $degrees }°
fault-lid-above = opened more than { $degrees }°
fault-lid-between = opened between { $low }° and { $high }°
fault-flexed = when flexed ({ $percent } %)
fault-shaken = after a slam or a knock ({ $percent } %)
fault-turned = after it has come to stand ({ $percent } %)
fault-colder = colder than { $celsius } °C
fault-warmer = warmer than { $celsius } °C
fault-wet = when wet
fault-ohms = { $ohms } Ω
fault-strands = { $left } of { $of } strands left
fault-amps = from { $amps } A on
fault-volts = { $volts } V

## What was seen

# How bright a lamp is.
light-dark = dark
light-glimmer = a mere glimmer (about { $percent } % of its light)
light-faint = glows faintly (about { $percent } % of its light)
light-dim = dim (about { $percent } % of its light)
light-little-dim = a little dim (about { $percent } % of its light)
light-bright = bright
seen-light = { $lamp }: { $light }
seen-flash = { $lamp } lights up for a moment: { $light }
seen-dip = { $lamp } falls for a moment: { $light }
seen-turns = { $part } turns
seen-stands-still = { $part } stands still
seen-mist-clears = { $part }: the mist clears before every line
seen-mist-no-line = { $part }: no line gets warm

# Numbers of lines, with commas.
seen-mist-stays = { $part }: the mist stays before line { $cold }
seen-mist-slow = { $part }: the mist clears slowly before line { $slow }
seen-mist-stays-and-slow = { $part }: the mist stays before line { $cold }, and clears slowly before line { $slow }
# What stands for $lid where it is not called by its name: a lid, or a rear door.
lid-word = lid
lid-word-door = rear door

seen-lid-sign-lit = dash: the sign for an open { $lid } is lit
seen-lid-sign-dark = dash: the sign for an open { $lid } is dark
seen-lid-released = the { $lid } lets go and springs open a little
seen-claw-opened = the claw opens
seen-lid-at = the { $lid } stands at { $degrees }°
seen-prop-off = the prop is taken away
seen-lid-shut = the { $lid } is shut
seen-lid-first-catch = the { $lid } rests on its first catch

# A module's blinking when its memory is read.
seen-blink-nothing = one long blink: nothing is remembered
seen-blinks = it blinks { $codes }
seen-blink-then = { $one }; then { $other }
seen-blink-code = { $count } times ({ $meaning })
seen-blink-not-listed = not in the list
seen-no-blink = no blink at all: the module does not answer
seen-of = { $what }: { $look }
seen-meter-fuse-blown = the meter's fuse has blown
seen-tool-fuse-blown = the fuse of the { $tool } has blown
seen-terminals-home = { $connector }: fully home, wires in their places; unplug it to see the terminals
seen-terminals-sound = { $connector }: terminals straight, bright and in line
seen-terminal = cavity { $cavity } { $look }
seen-not-home = { $connector }: its halves are not fully together
seen-went-home = { $connector }: this time it goes home with a click
seen-tug-holds = { $connector }, cavity { $cavity }: the wire holds
seen-tug-slides = { $connector }, cavity { $cavity }: the terminal slides back
seen-tug-stretches = { $connector }, cavity { $cavity }: the wire gives and stretches
seen-loom-sound = { $station }: insulation and copper look sound
seen-stud-sound = clean and tight
seen-stud-loose = the eyelet can be turned by hand
seen-stud-off = the eyelet has come off the stud
seen-stud-corroded = tight, but crusted white and green
seen-panel-off = { $panel }: out of the way
seen-panel-on = { $panel }: back in place
seen-done = done
seen-wet = the rear of the car is wet
seen-dry = the rear of the car is dry again
seen-reading-moved = the reading moves between { $low } and { $high }
seen-probe-red = the red probe is on: { $point }
seen-probe-black = the black probe is on: { $point }
look-no-fuse = no fuse is fitted
look-fuse-blown = { $amps } A, its strip has melted
look-fuse-blown-loose = { $amps } A, its strip has melted, and its clips do not grip
look-fuse-whole = { $amps } A, its strip is whole
look-fuse-whole-loose = { $amps } A, its strip is whole, and its clips do not grip

# A terminal: follows the number of its cavity.
look-terminal-back = stands back in its cavity
look-terminal-spread = has its spring spread open
look-terminal-corroded = is green with corrosion
look-terminal-bent = faces a pin of the other half that is bent aside
look-terminal-colour = holds a wire of another colour than the pin table says

# Wires where the tape of the loom is open.
look-parted = { $wire } is cracked through and its copper parted
look-corroded = { $wire } is green and swollen
look-frayed = { $wire } hangs on its last strands, which are bright
look-chafed = { $wire } is chafed bare
look-chafed-together = { $one } and { $other } have chafed through and touch
look-crusted = a green, damp crust joins { $one } and { $other }
look-earlier-splice = { $wire } has been twisted together and taped here

## What was heard

heard-chirps =
    { $count ->
        [1] one chirp
        [2] two chirps
       *[other] { $count } chirps
    }
heard-motor-runs = the latch's motor runs
heard-motor-strains = the latch's motor hums and does not turn
heard-motor-twitches = the latch jerks once and stops
heard-plunger-hums = the latch's solenoid hums, and its plunger stays where it is
heard-relay-clicks = a relay clicks
heard-relay-chatters = a relay chatters
heard-latch-opens = the latch snaps open
heard-lever-binds = the lever's cable goes tight and nothing gives
heard-latch-takes = the latch snaps home
heard-tone = the meter's tone sounds
heard-tone-breaks = the meter's tone comes and goes
heard-fuse-pops = a pop: a fuse in a lead has opened
heard-customer = the customer: "{ $words }"
heard-button-lock = the key's lock button clicks under the thumb
heard-button-unlock = the key's unlock button clicks under the thumb
heard-button-release = the key's release button clicks under the thumb

## Readings

# What the display shows now; before that it caught some figures.
reading-catches = the display catches { $figures }, then { $now }
reading-held = { $reading }; least { $least }, greatest { $greatest }
reading-with-tone = { $reading }, with tone
reading-clamp = clamp { $reading }
recording-channel = least { $least }, greatest { $greatest }
recording-over = { $channels } over { $milliseconds } ms

## Cautions

caution-restraint = Restraint (airbag) wiring is never probed, powered, bridged or measured; a yellow sleeve is a warning, another colour no proof.
caution-eyes = Protect your eyes at the battery and under an open lid.
caution-lid = Prop the lid, or secure the door, before you work there; keep hands clear of latch and hinge.
caution-nobody-inside = Nobody stays in the load space while it is shut.
caution-no-piercing = Do not pierce insulation; open the tape and close it again.
caution-fused-only = Bridge and feed only through a lead with a fuse of its own.
caution-ohms-on-live = Ohms, tone and diode need a circuit without power; on a live one the figure means nothing.
caution-amps = On amps the meter is nearly a short: in line only, never across a source.
caution-makers-procedure = The vehicle maker's procedure, local codes and licensed practice come first; disconnect battery ground where they say so and wait.
caution-fuse-too-large = A fuse above the slot's rating does not protect the wire behind it: the wire becomes the fuse.
caution-heat = Heat melts insulation, seals and trim: warm from a distance and keep the gun moving.
caution-claw = Close the claw with a tool, never a finger; it opens under power.
caution-spread-terminals = Front-probe an open connector with a tip of the terminal's size; one that is too big spreads its spring. Back-probe where you can.

## Why something could not be done: follows `Not possible:`

refusal-panel = it is behind the { $panel }
refusal-lid-too-low = it is reached only with the { $lid } open, at { $degrees }° or more
refusal-load-space = the load space is closed: open the { $lid }, or fold the { $panel }

# One of the two above for who types commands: { $name } is the panel's name in them.
refusal-take-off = { $why } (take { $name } off)
refusal-lid-held = the latch holds the { $lid }
refusal-claw-home = the claw is home already; release it first
refusal-lid-not-up = the { $lid } is not open
refusal-already-so = it is so already
refusal-mated = the connector is plugged together: that cannot be reached
refusal-not-mated = the connector is open already
refusal-empty-cavity = no wire ends there
refusal-no-fuse = there is no fuse to take
refusal-fuse-in-place = a fuse sits there; pull it first
refusal-no-such-rating = there is no fuse of that rating in the box
refusal-conductor-not-here = that conductor does not pass there
refusal-same-point = both ends are on the same point
refusal-meter-fuse-whole = the meter's fuse is whole
refusal-handed-in = the job has been handed in
refusal-no-coach = this scenario has no coach: find it by yourself
refusal-not-allowed = that instrument is not allowed in this job
refusal-time-up = the time of this job is up: it can only be handed in
refusal-springs-back = it springs back: press it
refusal-stays-put = it stays where it is put: switch it on or off
refusal-meter-not-ready = the meter is off, or a lead touches nothing
refusal-no-such-wait = wait from 1 to { $most } minutes at a time
refusal-no-such-line = there is no such line or section
refusal-tool-in-the-way = a lead is still on the pins
refusal-recorder-not-ready = the recorder has nothing to record: put its leads on two points, or close the clamp round a conductor
refusal-too-dear = the customer does not agree: at most { $most } units, and for that he wants to hear what the fault needs

# What a scenario forbids.
limit-not-allowed = Not allowed in this job: { $names }.
limit-minutes = After { $minutes } minutes on the job's clock it can only be handed in.

## Acts, as titles and in lists: what is done. Vehicles' things stand in them by their titles

act-ask-title = ask: { $question }
act-red-title = red lead to { $point }
act-black-title = black lead to { $point }
act-red-hastily-title = red lead hastily to { $point }
act-black-hastily-title = black lead hastily to { $point }
act-name = name: { $fault } ({ $percent } %)
act-suspect-no-longer = suspect no longer: { $fault }
act-suspect = suspect: { $fault } ({ $percent } %)
act-coach = ask the coach (rung { $rung })
act-estimate = tell the customer: it will cost { $units } units
act-write-complaint = write: complaint
act-write-cause = write: cause
act-write-correction = write: correction
act-ask-when = ask since when
act-ask-weather = ask about the weather
act-ask-load = ask about the load
act-ask-work = ask about earlier work
act-ask-else = ask what else is odd
act-cautions = read the cautions
act-glasses = put safety glasses on
act-prop = prop the { $lid }
act-look = look and listen
act-key-lock = key: lock
act-key-unlock = key: unlock
act-key-release = key: release the { $lid }
act-press = press the { $part }
act-switch-on = { $part } on
act-switch-off = { $part } off
act-lever = pull the lever inside
act-force-latch = force the latch through the trim
act-lockout-on = release lockout setting on
act-lockout-off = release lockout setting off
act-lid-shut = push the { $lid } shut
act-lid-catch = let the { $lid } onto its first catch
act-lid-up = open the { $lid } fully
act-lid-angle = hold the { $lid } at { $degrees }°
act-claw-close = close the claw with a tool
act-panel-off = take the { $panel } off
act-panel-back = put the { $panel } back
act-plug = plug the { $connector } together
act-unplug = unplug the { $connector }
act-inspect = look closely at the { $what }
act-tug = tug the wire of { $point }
act-tape = open the tape at the { $station }
act-flex = flex the loom at the { $station }
act-meter-off = meter: off
act-meter-volts = meter: volts
act-meter-low-z = meter: volts, low impedance
act-meter-ohms = meter: ohms
act-meter-tone = meter: tone
act-meter-diode = meter: diode
act-meter-amps = meter: amps
act-capture-on = hold the least and the greatest
act-capture-off = let the least and the greatest go
act-red = red to { $point }
act-black = black to { $point }
act-red-off = red lead off
act-black-off = black lead off
act-red-hastily = red hastily to { $point }
act-black-hastily = black hastily to { $point }
act-read = read the meter
act-meter-prove = prove the meter on the battery
act-meter-fuse = new fuse in the meter
act-lamp-5 = 5 W test lamp on { $from } and { $to }
act-lamp-5-off = 5 W test lamp off
act-lamp-21 = 21 W test lamp on { $from } and { $to }
act-lamp-21-off = 21 W test lamp off
act-bridge = fused bridge on { $from } and { $to }
act-bridge-off = fused bridge off
act-bench = bench battery on { $from } and { $to }
act-bench-off = bench battery off
act-clamp = clamp round { $place }
act-clamp-off = clamp off
act-recorder = recorder on { $from } and { $to }
act-recorder-off = recorder's leads off
act-recorder-arm = arm the recorder
act-recorder-disarm = disarm the recorder
act-fuse-pull = pull { $fuse }
act-fuse-look = look at { $fuse }
act-fuse-back = push back { $fuse }
act-fuse-fit = fit new { $amps } A as { $fuse }
act-memory-read = read the memory of the { $part }
act-memory-clear = clear the memory of the { $part }
act-wait = wait { $minutes } min
act-tap = tap the { $part }
act-wet = wet the rear
act-dry = blow the rear dry
act-warm = warm the { $place }
act-cool = cool the { $place }
act-splice = splice { $conductor } at the { $station }
act-twist = twist and tape { $conductor } at the { $station }
act-terminal = put right the contact at { $point }
act-swap = change terminals { $first } and { $second } over in the { $connector }
act-clean = clean and tighten the { $stud }
act-clips = close the clips of { $fuse }
act-paint = paint section { $section } of line { $line } of the { $part }
act-fit = fit a new { $part }
act-fit-key-cell = fit a new cell in the key
act-fit-key = new key, programmed
act-charge = charge the battery
act-mark-good = mark as proven good: { $thing }
act-mark-suspect = mark as suspect: { $thing }
act-mark-unknown = mark as not known: { $thing }
act-hand-in = hand in
act-refer = refer with this evidence

## Questions to the customer, and what he answers. Each answer has three ways that say the same

question-when = Since when, and is it always so?
question-weather = Does the weather make a difference?
question-load = Does it matter how the car is loaded?
question-work = Has anybody worked on the car lately?
question-else = Key or pad, and is anything else at the rear odd?
answer-always-1 = It is always so, every time.
answer-always-2 = Every time, without exception.
answer-always-3 = It never does it right any more.
answer-comes-1 = It comes and goes. Sometimes it opens as if nothing were wrong.
answer-comes-2 = Now and then it works, and I cannot say why.
answer-comes-3 = Not always. Some days all is well, and then it is back.
answer-at-once-1 = It began from one day to the next.
answer-at-once-2 = One day it was there, all at once.
answer-at-once-3 = The day before it was still in order.
answer-slowly-1 = It has been getting worse for some weeks.
answer-slowly-2 = It began with little, some weeks ago, and it grows.
answer-slowly-3 = Week by week it is a little worse.
answer-worse-wet-1 = It is worse after rain.
answer-worse-wet-2 = When it has rained it is worse.
answer-worse-wet-3 = In wet weather it is worse than otherwise.
answer-only-wet-1 = It is so after rain or a wash. When all is dry, it is well.
answer-only-wet-2 = Only in the wet: after rain, or after I have washed the car. Dry, it is well.
answer-only-wet-3 = Rain does it, or the car wash. Once it has dried, nothing is wrong.
answer-cold-1 = It is so on cold mornings. Later in the day it is often well.
answer-cold-2 = When it is cold, in the morning. Around noon it is often gone.
answer-cold-3 = Cold brings it on. When the day warms up it is often well.
answer-warm-1 = It is so when the car has stood in the sun.
answer-warm-2 = In the heat, after it has been parked in the sun.
answer-warm-3 = When the sun has been on the car, then it happens.
answer-knock-1 = After a hard slam, or a knock, it may be well again, or the other way round.
answer-knock-2 = A slam or a knock can mend it, or bring it back.
answer-knock-3 = Sometimes I hit it, or slam it, and then it is the other way round.
answer-weather-no-matter-1 = Wet or dry, I see no difference.
answer-weather-no-matter-2 = The weather has nothing to do with it, as far as I can tell.
answer-weather-no-matter-3 = Rain or sun, it is all the same.
answer-pressing-1 = If I lean on the { $lid } while I press, it sometimes lets go.
answer-pressing-2 = With my weight on the { $lid } while I press, it sometimes opens.
answer-pressing-3 = Sometimes it helps to push against the { $lid } while I press.
answer-load-no-matter-1 = Full or empty, it is the same.
answer-load-no-matter-2 = What I carry makes no difference.
answer-load-no-matter-3 = It is the same with load and without.
answer-wiring-repaired-1 = Somebody worked on the { $lid }'s wiring a while ago.
answer-wiring-repaired-2 = There was something with the wiring of the { $lid }; that was repaired a while ago.
answer-wiring-repaired-3 = Yes, a while ago somebody had the { $lid }'s wires apart.
answer-fuse-changed-1 = A fuse was changed, with one from the glove box.
answer-fuse-changed-2 = I put in a fuse that I had in the glove box.
answer-fuse-changed-3 = Only a fuse, a spare one that lay in the glove box.
answer-no-work-1 = Nobody has touched it.
answer-no-work-2 = No, nobody.
answer-no-work-3 = Nothing has been done to it, no.
answer-key-nothing-1 = The key does nothing at all: it does not even lock.
answer-key-nothing-2 = With the key I can do nothing, not even lock.
answer-key-nothing-3 = The key is dead: no locking, no unlocking, nothing.
answer-key-locks-1 = The key locks and unlocks, but it does not open the { $lid }.
answer-key-locks-2 = I can lock and unlock with the key, only the { $lid } does not open.
answer-key-locks-3 = Locking works, unlocking works. The { $lid } does not answer the key.
answer-key-opens-1 = With the key it does open.
answer-key-opens-2 = The key opens it.
answer-key-opens-3 = When I take the key, it opens.
answer-pad-opens-1 = The pad on the { $lid } does open it.
answer-pad-opens-2 = With the pad on the { $lid } it opens.
answer-pad-opens-3 = When I press on the { $lid }'s pad, it opens.
answer-pad-not-1 = The pad on the { $lid } does not open it.
answer-pad-not-2 = With the pad on the { $lid } it does not open.
answer-pad-not-3 = I can press on the { $lid }'s pad as I like, it does not open.
answer-lamp-dark-1 = The { $lamp } stays dark.
answer-lamp-dark-2 = The { $lamp } does not light.
answer-lamp-dark-3 = From the { $lamp } there comes no light.
answer-lamp-dim-1 = The { $lamp } is dim.
answer-lamp-dim-2 = The { $lamp } is weaker than it should be.
answer-lamp-dim-3 = The { $lamp } gives little light.
answer-starts-slowly-1 = The engine turns slowly when I start it.
answer-starts-slowly-2 = When I start, the engine turns as if it were tired.
answer-starts-slowly-3 = It cranks more slowly than it used to.
answer-nothing-else-1 = Otherwise all is well, as far as I have seen.
answer-nothing-else-2 = I have seen nothing else.
answer-nothing-else-3 = All else is in order, I think.


## What is not as it was: follows `Not put back:`

left-panel = the { $panel } is off
left-plug = the { $connector } is unplugged
left-switch = the { $part } is on
left-fuse = { $fuse } is out
left-clip = the { $tool } is still on
left-probe = a probe of the meter is still on the car
left-clamp = the clamp is still closed round something
left-lockout = the release lockout setting is on
left-recorder = the recorder's leads are still on
left-lid = the { $lid } is not shut

## Marks in words

part-diagnosis = Right diagnosis
part-reasoning = Reasoning
part-parts = Parts not wasted
part-time = Time
part-proof = Proof of repair
part-safety = Safe work and write-up
why-nothing-missed = Nothing missed.
why-not-earned = Not earned: { $points }.
# Of points that are given where nothing went against them.
why-too-little-done = Not earned because less than { $percent } % of the job was done: { $points }.

# The minutes are written out, with a point.
lesson-reasoned = Of the { $spent } minutes that choices took, they lost { $lost } against the best that could be expected.

# { $wastes } is a list of the three that follow.
lesson-reasoned-wastes = Of the { $spent } minutes that choices took, they lost { $lost } against the best that could be expected: { $wastes }.
lesson-idle =
    { $count ->
        [one] { $count } test that could tell nothing
       *[other] { $count } tests that could tell nothing
    }
lesson-again =
    { $count ->
        [one] { $count } repeat with nothing changed
       *[other] { $count } repeats with nothing changed
    }
lesson-hunches =
    { $count ->
        [one] { $count } repair on a hunch
       *[other] { $count } repairs on a hunch
    }
lesson-coached = The coach's advice took { $marks } off.
lesson-evidence-early = Named too early: the evidence in hand made it { $percent } % likely.
lesson-evidence = The evidence in hand made it { $percent } % likely.
lesson-several = { $wrong } things were wrong at once, and each counts alike; { $named } were named.
lesson-nothing-named = No fault was named.
lesson-referred = Referred without a name: honest, and it earns by what was found.
lesson-wrong-component = The named component is not the faulty one (named with { $percent } %).
lesson-right-right = Right component, right kind, right place (named with { $percent } %).
lesson-right-near = Right component, right kind, near the place (named with { $percent } %).
lesson-right-wrong = Right component, right kind, wrong place (named with { $percent } %).
lesson-wrong-right = Right component, wrong kind, right place (named with { $percent } %).
lesson-wrong-near = Right component, wrong kind, near the place (named with { $percent } %).
lesson-wrong-wrong = Right component, wrong kind, wrong place (named with { $percent } %).
lesson-no-waste = Nothing was mended that was sound; parts came to { $cost }.
lesson-waste =
    { $count ->
        [one] One repair mended nothing; the bill is { $cost }.
       *[other] { $count } repairs mended nothing; the bill is { $cost }.
    }
lesson-time = { $minutes } minutes (acts of safety not counted) against a par of { $par }; full up to 1.3 times the par.
lesson-nothing-mended = Nothing was mended, so nothing was proven.
lesson-wrong-left = Something is still wrong with the car.
lesson-not-retested = The complaint was not retested with the rear shut.
lesson-retest-failed = The last retest failed.
lesson-retested-few = Retested { $good } times; a fault that comes and goes needed { $needed }.
lesson-retested = The complaint was retested with the rear shut, often enough.
lesson-retested-dry = The complaint was not retested with the rear shut and wet, as it was when it failed.
lesson-poor-joint = A joint was only twisted and taped: it will come back.
lesson-neighbours = Neighbouring functions were checked.
lesson-no-neighbours = No neighbouring function was checked after the repair.
lesson-put-back =
    { $left ->
        [0] Everything was put back.
        [one] One thing was not put back.
       *[other] { $left } things were not put back.
    }
safety-cautions = reading the cautions
safety-eyes = protecting the eyes at the battery
safety-lid = propping the lid or door before work there
safety-ohms = keeping ohms off live circuits
safety-amps = keeping amps off sources
safety-fuse = fitting no fuse above its slot's rating
safety-wrote-complaint = complaint written in a few words
safety-wrote-cause = cause written in a few words
safety-wrote-correction = correction written in a few words
safety-figure-complaint = a reading in complaint
safety-figure-cause = a reading in cause
safety-figure-correction = a reading in correction
calibration-on-a-line = Your suspicion sheet gave the true fault { $percent } %: a Brier score of { $brier } (0 is best, 2 worst) and { $bits } bits of surprise; it earns no marks.
calibration-off-the-lines = Your suspicion sheet had no line for the true fault and gave something else { $percent } %: a Brier score of { $brier } (0 is best, 2 worst) and { $bits } bits of surprise; it earns no marks.
cap-amps = Dangerous act (amps across a source): the total cannot pass { $most }; { $off } taken off.
cap-other = Dangerous act (a dangerous act): the total cannot pass { $most }; { $off } taken off.
bill-untold = Bill: labour { $labour }, parts { $parts }, in all { $total }. The customer was not told beforehand what it would cost.
bill-over = Bill: labour { $labour }, parts { $parts }, in all { $total }. He had agreed to { $agreed }: { $over } more than that.
bill-agreed = Bill: labour { $labour }, parts { $parts }, in all { $total }. He had agreed to { $agreed }.
comeback-same = Some days later the customer is back: "It is just as it was."
comeback-joint = Some weeks later the customer is back: the joint that was only twisted has worked loose.
comeback-left = The customer is back the same day: "Something here is not as I brought it."

## The debrief, step by step

step-nothing = nothing that could be done
step-idle = it could tell nothing of which repair is needed
step-again = the same as before, with nothing changed
step-preparation = handed in before it came to a test that tells the possible faults apart
step-repair = a repair that was { $percent } % likely to be the needed one
step-better-mend = better: { $acts } (the evidence was enough to mend)
step-better = better: { $acts } ({ $bits } bits in { $minutes } min)
step-unlisted = nothing wrong, or something that is not on the list
step-more = { $count } more that the same repair mends

# Joins faults of which one is it: see the two messages above.
step-or = { $one }, or { $other }
step-left = still possible after it:
# { $group } is one or more faults that the same repair mends; a line each.
step-percent = – { $percent } % { $group }
step-possible = { $causes } in { $groups }
step-free = free
waypoint-start = as the vehicle comes in
waypoint-mend = mend: { $acts }
practice-evidence = Name a fault only when the evidence has ruled out its rivals: before you name it, say aloud what else would have given the same readings.
practice-naming = Follow the evidence to the end: component, kind and place. When the conductor is known, walk the break down to a station.
practice-no-hunches = Prove a part bad at its own connector, with its own feed and ground under load, before you fit one.
practice-telling-tests = Before you connect anything, say what the reading would be under each fault that is left; if it is the same under all, choose another test.
practice-better-tests = Look for the test that splits what is left nearest to half for its minutes: cheap and from outside first, then by load, then by taking things apart.
practice-time = Do what you chose in fewer moves: leave the leads where they serve twice.
practice-proof = After the repair show the complaint gone in the conditions that made it, try a neighbour, and put everything back.
practice-safety = Work as if the cautions were marked first: read them, protect eyes, prop the lid or door, and write up complaint, cause and correction with a reading each.
practice-harder = Nothing stands out: take a harder job.

## What the coach says

# { $acts } are acts, and { $precautions } a sentence with a space before it, or nothing.
advice-kind = { $kind }.
advice-kind-where = { $kind }: { $place }.
advice-test = { $acts }. { $causes }; this would sort them into { $groups } and is expected to tell { $bits } bits, for { $minutes } minutes.{ $precautions }
advice-repair = { $acts }. { $causes }; that this mends it is { $percent } % likely, and no test is worth its time before it: { $minutes } minutes with putting back and a trial.{ $precautions }
advice-finish = As far as what was seen tells, nothing is left that needs mending. Prove that the complaint is gone, put everything back, write it up, hand in.
advice-causes =
    { $count ->
        [one] One cause is still possible
       *[other] { $count } causes are still possible
    }
advice-groups =
    { $count ->
        [one] 1 group
       *[other] { $count } groups
    }
advice-prop-and-glasses = {" "}Prop the lid or door once it is open, and wear glasses at the battery.
advice-prop = {" "}Prop the lid or door once it is open.
advice-glasses = {" "}Wear glasses at the battery.
coaching-next = the next rung is coach { $number }, { $says }: it costs { $marks }
coaching-all-said = the coach has said all that it can; it costs nothing more until something has been done
coaching-price = { $next } (all rungs: { $prices }; so far: { $cost })
coaching-rung-price = coach { $number }, { $marks }
rung-question = a question to ask yourself
rung-kind = the kind of test, and where
rung-test = the very test, and why

# { $price } is `given` or a number of marks.
rung-button = { $number }. { $says } ({ $price })
rung-given = given
coached-so-far = The coach has taken { $marks } off so far.
marks-count =
    { $count ->
        [one] 1 mark
       *[other] { $count } marks
    }
doubt-complaint = Have you seen and heard the complaint for yourself, as the customer has it?
doubt-setting = Is anything broken at all, or is a setting in the way?
doubt-command = Is the command not given, or is it given and not carried out?
doubt-feed-or-ground = Is it the feed that is missing, or the ground?
doubt-wiring-or-part = Is it the wiring, or what the wiring leads to?
doubt-side = Is it on the body, at the hinge, or in the lid or door? Which connector would tell you?
doubt-lid-position = Does it matter how far the rear stands open? At which angle does it change?
doubt-comes-and-goes = Is it always so, or does it come and go? What would bring it back?
doubt-apart = What would look different if one of those that are left were true and not another?
doubt-enough = Is it certain enough to mend? What would a wrong repair cost, and what would one more test tell?
means-ask = Ask the customer
means-look = Look closely
means-command = Work it, look and listen
means-part-way = Work it with the rear held part-way open, look and listen
means-provoke = Bring it about: work it after a knock, in the wet, or several times
means-memory = Read what the module remembers
means-volts-at-rest = Measure volts with nothing commanded
means-volts-commanded = Measure volts while the command lasts, with capture on
means-lamp = Put a test lamp in place of the load and give the command
means-ohms = Measure ohms with the connector open
means-flex = Flex the loom and watch the meter
means-tape = Open the tape and look at the wires
means-tug = Pull gently at a wire
means-repair = It is time to mend something
where-at-the = at the { $what }
where-between = from the { $one } to the { $other }
where-at = at { $what }
where-battery = at the battery
where-key = with the key

## The suspicion sheet in words

suspected = suspected: { $fault } ({ $percent } %)
suspected-rest = left for something else: { $percent } %
suspected-overfull = the suspicion sheet holds { $percent } % in all: for the score it is scaled to 100 %, and nothing is left for something else

## What to practise, and the circuits of a scenario

skill-complaint = complaint and settings
skill-feeds = feeds and grounds
skill-load = testing under load
skill-loom = loom and intermittents
skill-modules = relays, switches and modules
skill-proof = proof and safety
next-new = new
next-badly =
    { $jobs ->
        [one] went badly, 1 job ago
       *[other] went badly, { $jobs } jobs ago
    }
next-keep-up =
    { $jobs ->
        [one] to keep it up, 1 job ago
       *[other] to keep it up, { $jobs } jobs ago
    }
level =
    { $jobs ->
        [one] { $percent } %, 1 job
       *[other] { $percent } %, { $jobs } jobs
    }
level-none = not yet trained
circuit-of-many = what the { $switch } works, of { $count } watched
circuit-rest = resting drain

## The vehicle in words: pins, places, loom, conductors. Tables in letters of one width; the blanks before a line are made by the program

zone-front = under the bonnet
zone-cabin = in the cabin
zone-outside = outside
zone-load-space = in the load space
zone-lid = inside of the { $lid }

# { $panel } is the panel's name in commands.
zone-behind = { $zone }, behind { $panel }
words-titled = { $name } ({ $title }), { $place }
words-panels = Panels and seats:
words-panel = { $title } ({ $off } min off, { $on } min back)
words-studs = Studs:
words-stud = { $title }, { $place }
words-battery = Battery: { $place }
words-fuses = Fuses: { $place }
words-reached = The inside of the { $lid } and the load space are reached with the { $lid } at { $degrees }° or more.
words-stations = Stations, from the body to the latch, and the conductors that pass them:
words-conductors = Conductors, with colour (IEC 60757), mm², and their ends:
words-eyelet = { $eyelet } on { $stud }

# Where a conductor ends, in these tables. The English are the names in commands.
name-body = body
name-battery-plus = battery-plus
name-fuse-feed = { $fuse }.feed
name-fuse-load = { $fuse }.load

words-parts = Parts between their own pins:
words-part = { $part } ({ $pins }): { $inside }

# What is between a part's pins: { $a } and { $b } are numbers of pins.
inside-lamp = lamp { $watts } W between { $a } and { $b }
inside-switch = switch between { $a } and { $b }
inside-led = lamp of diodes from { $a } to { $b }, one way only
inside-diode = diode, anode { $a }, cathode { $b }
inside-resistor = { $ohms } Ω between { $a } and { $b }
inside-screen = { $lines } lines of { $ohms } Ω side by side, bars at { $a } and { $b }
inside-motor = motor between { $a } and { $b }
inside-latch-motor = motor { $feed } to { $ground }; ajar switch { $ajar } to { $ground }, closed while the latch is open; claw-home contact { $home } to { $ground }, closed while the claw is home
inside-latch-solenoid = solenoid { $feed } to { $ground }; ajar switch { $ajar } to { $ground }, closed while the latch is open; claw-home contact { $home } to { $ground }, closed while the claw is home
inside-module = supply { $supply }, ground { $ground }; inputs: { $inputs }; outputs: { $outputs }
inside-pin = { $pin } { $title } ({ $what })
input-up = pulled up, low below { $volts } V
input-down = pulled down, high above { $volts } V
output-contact = relay contact from { $feed }, open at rest, bleed to ground
output-high-side = electronic, from { $feed }, up to { $amps } A; at rest { $rest }
output-low-side = electronic, to ground, up to { $amps } A; at rest { $rest }
output-half-bridge = half-bridge from { $feed }, up to { $amps } A; at rest { $rest }
output-bleed = bleed to ground
output-bias = weakly biased to the supply to find an open load
output-braking = braking to ground
relay-coil = coil between { $a } and { $b }, pulls in at { $volts } V; contact { $common }
relay-coil-working = coil between { $a } and { $b }, pulls in at { $volts } V; contact { $common } to { $working } when pulled in
relay-resting = { $relay }, to { $resting } at rest

## The instruments

instruments-meter = Meter, 6,000 counts. Each setting, what it puts on the circuit, and what it may be off:

# A row: the setting's title is made as wide as it must be.
instruments-row = { $setting } { $about }; { $off }
instruments-volts = 10 MΩ input; an open wire shows the ghost that leakage gives it; up to 60 V
instruments-low-z = 3 kΩ input; a ghost falls to nothing, a feed stays; up to 60 V
instruments-ohms = source of 2.6 V, under 350 µA; both leads' 0.1 Ω included; up to 40 MΩ; a circuit without power
instruments-tone = ohms, with a tone below 50 Ω: one remaining strand sounds as well as a whole wire
instruments-diode = source of 2.8 V, under 1.2 mA; a junction's drop in volts with red on its anode, OL the other way
instruments-amps = shunt of 0.03 Ω behind the meter's own 10 A fuse; in line only: in place of a pulled fuse, feed to load

# Lines of about 120 letters, for a terminal.
instruments-note-meter =
    The display renews itself four times a second and shows the mean of that time: what changes shows part-way once, then
    settled. With capture on it holds the least and the greatest mean over a tenth of a second until a lead or its switch is moved.
    Behind a mated connector a lead back-probes, with the circuit as it works. On an open one it front-probes, and what hung
    on the connector hangs there no more: volts without load. Put there hastily it takes a third of the time, and may land on
    the next cavity; a look tells where the probes are.
instruments-note-clamp =
    Clamp, round one conductor at a station, behind a cavity, or the battery's cable: direct current up to 60 A, 10 mA a count,
    ±(2 % + 3), no load on the circuit; its zero drifts by up to 30 mA. Plus is from a conductor's first end to its second, as
    list diagram has them; in the battery's cable, out of the post.
instruments-note-recorder =
    Recorder, volts between two leads of its own (10 MΩ) and the clamp's amps over time: armed, it takes down the next act
    that works the car or joins or parts the circuit.

## The text desk. Commands, and what is said of one that is mistyped, are in English in every language

desk-customer = The customer: "{ $words }"
desk-variation = Variation { $variation } of this scenario.
desk-resumed = Resumed after { $steps } steps, at { $minutes } minutes.
desk-handed-in = This job has been handed in.
desk-task =
    Find the fault, mend it, prove it, write it up, hand in. One fault is hidden; the lists name everything that
    can be tested. Type help for the commands, sheet for the job sheet.

# What an act brought. Two blanks before them are made by the program.
desk-refused = not possible: { $why }
desk-coach = coach: { $advice }
desk-heard = heard: { $what }
desk-seen = seen: { $what }
desk-meter = meter: { $reading }
desk-clamp = clamp: { $reading }
desk-recorder = recorder: { $reading }
desk-caution = caution: { $caution }
desk-breach = CAUTION, gone against: { $caution }
desk-nothing = nothing to see or hear
desk-done = done
desk-minutes = [{ $minutes } min]
desk-minutes-and-parts = [{ $minutes } min, parts { $cost }]
desk-sheet = JOB SHEET   { $vehicle }
desk-words = "{ $words }"
desk-clock = { $minutes } minutes, parts { $cost }
desk-named = named: { $fault } ({ $percent } %)
desk-unfinished = The job is left unfinished.
desk-thinking = the coach is thinking
desk-no-answer = the coach knows no answer here: { $why }
desk-sealed = Handed in. What it was worth is sealed: whoever set the paper opens it.
result-truth = The fault was: { $fault }
result-marks = MARKS

# Figures come before it, made as wide as they must be.
result-line = { $marks } of { $most } { $part } { $why }
result-total = { $marks } of 100   Total (job carried { $percent } % of the way)
debrief-head = DEBRIEF
debrief-start = At the start there were { $possible } possibilities, { $bits } bits; the best plan expected { $minutes } minutes to a proven repair.
debrief-start-bound = At the start there were { $possible } possibilities, { $bits } bits; the best plan expected { $minutes } minutes to a proven repair (no way takes less than { $bound }).
debrief-steps = Your steps, by the clock

# Heads of columns of figures, in letters of one width: let each stand over its own, as in English.
debrief-columns = clock     told expected      left   lost
debrief-plan-columns = clock   bits    left
