# The interface's texts in English, the language that others are translated from. See README.md beside this file.

## Language

# The language's own name, in itself: `English`, `Deutsch`, `Français`.
language-name = English

## Settings

settings-sound = Sound. Every sound stands in words at the lower edge, too.
settings-less-motion = Less motion: the lid is put where it goes, and does not swing.
settings-text-size = Size of text
settings-light = Light
settings-dim = dim room, dark cards
settings-bright = bright room, pale cards
settings-language = Language

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
sheet-jobs = Jobs  (Home)
sheet-settings = Settings  (End)
sheet-file = File  (Insert)
sheet-marks = Marks
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
card-shelf = Jobs on the shelf
card-everything = Everything, by name
card-settings = Settings
card-author = The scenario's file
card-help = Keys and ways of working

## Points that a lead touches, and what is on them

lead-red = red
lead-black = black
# Marks beside a point: what is on it. Short.
mark-clip = clip
mark-recorder = recorder
mark-clamp = clamp
# { $what } is one of the marks above, or a lead's colour.
point-has = has the { $what }
point-take-first = Take a probe or a clip in hand to put it here.
point-goes = What is in hand goes where you touch.
point-take-red-off = Take the red probe off
point-take-black-off = Take the black probe off
point-bare-metal = Bare metal
point-out-of-reach = Out of reach: { $why }.
# Short names of points, beside leads on the drawing.
short-body = body
short-battery-plus = battery +
short-battery-minus = battery −
short-key-plus = key cell +
short-key-minus = key cell −
# A fuse's side: F1 feed, F1 load.
short-fuse-feed = { $fuse } feed
short-fuse-load = { $fuse } load

## The card of a connector

connector-unplug = Unplug
connector-plug = Plug together
connector-look = Look closely
connector-mated = Plugged together: you back-probe, with the circuit as it works.
connector-open = Unplugged: you front-probe, and what hung on this connector loads nothing.
connector-body-half = body half
connector-lid-half = lid half
connector-loom-half = loom half
connector-own-pins = the part's own pins
connector-cavity-title = Cavity { $cavity }:
connector-tug = Tug the wire
connector-terminal = New terminal
# With another cavity: the button beside this list changes two terminals over.
connector-with = with { $cavity }
connector-swap = Change terminals over
connector-touch-cavity = Touch a cavity with an empty hand to tug its wire or renew its terminal.
# Names of cavities for a screen reader and under the pointer.
connector-cavity = cavity { $cavity }, { $wire }
connector-pin = pin { $cavity }
connector-empty = cavity { $cavity }, empty
part-fit = Fit a new { $part } ({ $price }, { $minutes } min)
part-read-memory = Read memory
part-clear-memory = Clear memory
part-tap = Tap it
part-claw = Close the claw with a tool
part-force = Force the latch (20 min)
# Of a heated screen. The number follows.
screen-line = line{" "}
# Follows a number: 3 of 8 parts of the way along the line, counted from the busbar that is fed.
screen-place = /{ $sections } from the fed bar
screen-put = Put what is in hand there
screen-paint = Paint section { $section } of line { $line }
place-warm = Warm it with a heat gun
place-cool = Cool it with spray

## The card of a station of the loom, of a stud, of a panel

station-flex = Flex the loom here
station-tape = Open the tape and look
station-found = With the tape open, at { $minutes } min: { $found }
station-conductors = A conductor here:
station-choose = Choose one to mend it here, or to close the clamp round it.
station-splice = Splice, heat-shrink, strain relief (20 min)
station-twist = Twist and tape (5 min)
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
lid-claw = Close the latch's claw with a tool
lid-lever = Pull the lever inside
lid-force = Force the latch through the trim (20 min)
lid-look = Look and listen
lid-wet = Wet the rear with a spray bottle
lid-dry = Blow it dry
lid-wait = Wait { $minutes } min

## The card of the cabin

cabin-switches = Switches
cabin-press = Press the { $part }
cabin-is-on = { $part } is on: switch it off
cabin-is-off = { $part } is off: switch it on
cabin-lever = Pull the lever inside, over the seat back
# Opens the card of a panel or seat.
cabin-panel = { $panel } ...
cabin-lockout = Release lockout setting:
cabin-lockout-on = set it on
cabin-lockout-off = set it off
cabin-fuses = Fuses: feed side left, load side right
cabin-feed-side = { $fuse }, feed side
cabin-load-side = { $fuse }, load side
cabin-rating = { $fuse } { $amps } A
fuse-look = Look at it
fuse-pull = Pull it
fuse-put-back = Push it back
fuse-clips = Close its clips
fuse-fit = Fit new { $amps } A
cabin-open = Open: { $connector }
fuse-new = New fuses:
fuse-as-slot = as the slot says
fuse-amps = { $amps } A

## Under the bonnet, the key, tools

front-eyes = Protect your eyes here.
front-glasses-on = Safety glasses are on
front-put-glasses-on = Put safety glasses on
front-prove-meter = Prove the meter on the battery
front-charge = Charge the battery (40 min)
front-plus = Plus post
front-minus = Minus post
key-lock = Lock
key-unlock = Unlock
key-release = Release the lid
key-about = It has a mechanical blade as well. Inside lies its cell.
key-new-cell = New cell ({ $price })
key-new = New key, taught ({ $price }, 25 min)
key-plus = Plus contact of the cell
key-minus = Minus contact of the cell
tray-about = Choose a rating here; fit it at the slot, in the cabin.
tray-meter-fuse = Fit a new fuse in the meter
tool-take = Take it in hand
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
customer-ask = Ask (a minute each)
findings-none = Nothing yet.
writing-about = Three lines. Give the readings that show the cause and the repair.
writing-write = Write it down
writing-count = { $count } of 3 lines written.
hand-in-about = Handed in, the job is over: the fault is shown and the marks are given.
hand-in-about-paper = Handed in, the job is over and its record is closed. What it was worth is told by whoever set the paper.
hand-in-named = Named: { $fault } ({ $percent } %)
hand-in-unnamed = No fault has been named.
hand-in-lines = Write-up: { $count } of 3 lines.
hand-in-left = Not put back: { $what }.
hand-in-agreed = The customer has agreed to { $units }.
hand-in-untold = The customer has not been told what it will cost.
hand-in-repaired = Hand in as repaired
hand-in-refer = I cannot confirm it: refer with this evidence

## Keys and ways of working

help-touch = Touch what you want to work on: rings mark what can be reached now.
help-probe = Take a probe at the meter's sockets, then touch a cavity, a fuse's side, a stud or a post.
help-tools = Tools lie on the trolley; each has two clips, and stays where it is put.
help-recorder = The current clamp and the recorder hang on the wall; armed, the recorder takes down the next act.
help-lid = Leads stay in place when the lid moves: watch the meter from outside.
help-minutes = Every act takes minutes; parts cost money. Outcomes stand at the bottom and under Findings.
help-tab = Tab, Shift+Tab: from one place to the next.  Enter or Space: touch it.  Page Up, Page Down: what is longer than its card.
help-esc = Esc: lay down what is in hand, or close the card.
help-keys-1 = F1 keys  ·  F2 customer  ·  F3 findings  ·  F4 diagram
help-keys-2 = F5 name the fault  ·  F6 write up  ·  F7 hand in
help-keys-3 = F8 lid  ·  F9 key  ·  F10 everything by name
help-keys-4 = F11 what you suspect  ·  F12 the coach  ·  Home the jobs on the shelf  ·  End settings

## A job that was left unfinished

left-title = A job was left unfinished
left-kept = It is kept as you left it, in { $path }.
left-go-on = Go on with it
left-another = Begin another

## What an act brought, at the lower edge

caption-refused = Not possible: { $why }.
caption-heard = Heard: { $what }
caption-seen = Seen: { $what }
caption-others-dark = All other lamps are dark.
caption-meter = Meter: { $reading }
caption-clamp = Clamp: { $reading }
caption-recorder = Recorder: { $reading }
caption-more = and { $count } more, on the sheet under findings
caption-breach = Gone against: { $caution }
caption-in-hand = In hand: { $what }. Touch a cavity, a fuse's side, a stud or a post; Esc lays it down.
hand-red-probe = red probe
hand-black-probe = black probe
hand-clamp = current clamp
hand-recorder-plus = recorder, plus lead
hand-recorder-minus = recorder, minus lead (plus is on { $point })
hand-first-clip = { $tool }, first clip
hand-second-clip = { $tool }, second clip (the first is on { $point })
trouble-another = Begin another job
trouble-understood = Understood
trouble-time-up = The time is up: nothing but handing in is taken any more.
trouble-no-answer = The coach knows no answer here: { $why }.
trouble-not-worked-out = what the steps are worth cannot be worked out
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
spot-key-release = key: release the lid
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
spot-fuse-tray = spare fuses and the meter's own
# On the meter's display, small.
display-tone = tone
# On the meter's display while it holds the least and the greatest: before and after there are any.
display-holds = min max
display-held = min { $least }  max { $greatest }

## Marks and debrief

marks-marks = Marks
marks-steps = Step by step
marks-another = Another job
marks-others = Other jobs
marks-car = Look at the car again
marks-truth = The fault was: { $fault }
marks-named = You named: { $fault } ({ $percent } %)
marks-of = { $marks } of { $most }
marks-total = Total { $marks } of 100
marks-handed-in = Handed in
marks-closed = The record is closed and sealed. What it was worth is told by whoever set the paper.
marks-close-window = Close the window; the next job of the paper begins when you sit down to it again.
marks-weighing = Every step is weighed against what else could have been done.
debrief-curve = What was still possible, in bits, over the minutes
debrief-legend = told: bits, of those to be expected; a surprise may tell more, or make less certain.  left: causes, in groups with the same repair.  lost: minutes
debrief-clock = clock
debrief-told = told
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
coach-since = Something has been done since: it may no longer hold.

## The recorder

recorder-take = Take its leads in hand
recorder-first-plus = The first is its plus.
recorder-on = Plus on { $plus }, minus on { $minus }.
recorder-off = Take its leads off
recorder-arm = Arm it
recorder-disarm = Disarm it
recorder-armed = Armed: it takes down the next act that works the car or joins or parts the circuit.
recorder-about = It takes down volts by its leads and amps by the clamp.
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
# Labels before lists: what is faulty, which one, in what way, where, how sure.
naming-what = What
naming-which = Which
naming-way = In what way
naming-where = Where
naming-sure = How sure
naming-name = Name it
naming-so-far = Named so far: { $fault } ({ $percent } %). The last name counts.
estimate-about = The customer wants to know what it will cost before anything is mended. By now it is { $so_far }; an hour is { $hour }, parts come on top.
estimate-in-all = In all
estimate-tell = Tell the customer
estimate-agreed = The customer has agreed to { $units }. The last word counts.

## The suspicion sheet

suspicions-about = For yourself: it takes no time and earns no marks. After the hand-in you see how well you weighed it.
suspicions-suspect = Suspect it with { $percent } %
suspicions-none = Nothing is on the sheet yet.
suspicions-strike = Strike out
# For a screen reader.
suspicions-strike-this = Strike out: { $fault }

## The shelf

shelf-kept = The job in hand is kept as it stands: the next start offers to go on with it.
shelf-practise = To practise next
shelf-begin = Begin
shelf-begin-anew = Begin anew
shelf-first = The first job, step by step
shelf-all = All jobs
# For a screen reader: the button's words and the scenario's title.
shelf-begin-this = { $begin }: { $title }
# The vehicle and the circuit.
shelf-about = { $vehicle }; { $circuits }
shelf-progress = How far you have come
shelf-none = No job has been handed in yet on this machine.
shelf-marks = Marks out of 100, job by job
shelf-plot = marks of all jobs: { $marks }

## The wiring diagram

diagram-image = wiring diagram
diagram-drawn = Drawn
diagram-in-words = In words
diagram-nearer = Nearer
diagram-further = Further
diagram-whole = Whole sheet
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
diagram-size = { $conductor }, { $size } mm²
diagram-at-station = { $conductor } at the { $station }

## The first job, step by step

first-title = Your first job here
first-about = A hatchback's lid does not open. Find out why, mend it and prove it, with a note beside you that tells each step: it takes a few minutes. It is a job like any other, and is marked like one.
first-show = Show me
first-know = I know my way
first-step = Step { $step } of { $all }
first-no-more = No more notes
first-step-1 = On the left hangs the job sheet. The customer's words are open now: read them, and the cautions below, and acknowledge those. Then close the card with Esc.
first-step-2 = See the complaint for yourself. Touch the key on the trolley at the right, or press F9, and press its release button. What is seen and heard stands in words at the lower edge.
first-step-3 = The car chirps, so key and module work; but the latch does not move. What feeds the latch? Open the wiring diagram with F4, find fuse F1, then close the diagram.
first-step-4 = Now measure. Touch the meter's knob at V (on the right).
first-step-5 = The black probe goes to the battery's minus. Touch the battery on the picture on the wall, and put on the safety glasses there: a battery can burst. Then take the black probe at its socket on the meter and touch minus.
first-step-6 = The fuses are in the cabin: touch it on the picture on the wall. Take the red probe and touch F1 on its feed side, the left one. The card stays open while you fetch the probe.
first-step-7 = The battery's volts arrive at the fuse. Take the red probe again and touch F1's load side, the right one.
first-step-8 = Volts before the fuse, none behind it: the fuse is open. That is proof, and took three minutes. Name the fault with F5: fuse F1, blown. Say there, too, what it will cost.
first-step-9 = Back in the cabin take F1 out and fit a new one of the same rating. A larger one would be a fire in the making.
first-step-10 = Prove the repair: take the probes off, leave the lid shut and press the key's release again.
first-step-11 = Every job ends so: shut the lid again (F8), write down complaint, cause and correction (F6), and hand in (F7). Then you see what each step was worth.

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
author-found = It can be played, but trials found this:
author-pool = The pool
author-here = here
author-try = Try it
# For a screen reader: buttons of a row, with the fault they are about.
author-try-this = Try it: { $fault }
author-weight-of = Weight of: { $fault }
author-take-out = Take out
author-take-out-this = Take out: { $fault }
author-one-more = One more entry of the pool
author-add = Add it
author-title = Title
author-customer = What the customer says
author-par = Par
# After a number.
author-min = {" "}min
author-par-name = Par in minutes
author-yard = Yard
author-celsius = Temperature of the yard
author-locked = locked
author-wet = wet
author-coach = the coach may be asked
author-kit = May be used:
author-kit-meter = meter
author-kit-lamp = lamp
author-kit-bridge = bridge
author-kit-bench = bench
author-kit-clamp = clamp
author-kit-recorder = recorder
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
