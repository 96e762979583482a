# Die Texte der Oberfläche auf Deutsch. Übersetzt aus en.ftl; siehe README.md daneben.

## Sprache

# The language's own name, in itself: `English`, `Deutsch`, `Français`.
language-name = Deutsch

## Einstellungen

settings-sound = Ton. Jedes Geräusch steht auch in Worten da.
settings-less-motion = Weniger Bewegung: Klappen und Türen stehen sofort an ihrem Platz und schwingen nicht.
settings-text-size = Schriftgröße
settings-light = Licht
settings-dim = Gedämpfter Raum
settings-bright = Heller Raum
settings-language = Sprache
settings-names = Aufträge ohne Übersetzung zeigen Titel und Worte des Kunden so, wie sie geschrieben wurden.

## Das Auftragsblatt auf dem Brett: kurz, eine Zeile fasst etwa zwanzig Zeichen. In Klammern die Taste, die es öffnet

sheet-customer = Kunde  (F2)
sheet-findings = Befunde  (F3)
sheet-diagram = Schaltplan  (F4)
sheet-suspects = Verdacht  (F11)
sheet-coach = Trainer  (F12)
sheet-name = Benennen  (F5)
sheet-write = Bericht  (F6)
sheet-hand-in = Abgeben  (F7)
sheet-keys = Tasten  (F1)
sheet-jobs = Tafel  (Pos1)
sheet-settings = Optionen  (Ende)
sheet-file = Datei  (Einfg)
# On the clipboard where there is no job.
sheet-no-job = Kein Auftrag
sheet-no-job-about = An der Tafel einen beginnen.
sheet-marks = Punkte

# What has been spent on parts, beside the clock.
sheet-parts = Teile { $cost }

# The clock of the job.
sheet-minutes = { $minutes } min

## Karten: ihre Titel

close = Schließen
card-cabin = im Innenraum
card-front = unter der Motorhaube
card-key = Schlüssel
card-fuse-tray = Ersatzsicherungen
card-meter = Multimeter
card-clamp = Stromzange
card-recorder = Schreiber
card-customer = Der Kunde
card-findings = Was gefunden wurde
card-naming = Fehler benennen
card-suspicions = Verdacht
card-coach = Der Trainer
card-writing = Bericht
card-handing-in = Abgeben
card-diagram = Schaltplan
card-shelf = Auftragstafel
card-everything = Alles, nach Namen
card-settings = Optionen
card-author = Die Datei des Szenarios
card-help = Tasten und Arbeitsweise

## Punkte, die eine Messleitung berührt, und was daran ist

lead-red = rot
lead-black = schwarz

# Marks beside a point: what is on it. Short.
mark-lamp-5 = 5 W
mark-lamp-21 = 21 W
mark-bridge = Brücke
mark-battery-plus = Batt. +
mark-battery-minus = Batt. −
mark-recorder-plus = Schr. +
mark-recorder-minus = Schr. −
mark-clamp = Zange

# The same in a sentence: beside a point, and of a cavity for a screen reader.
lead-red-here = rote Prüfspitze hier
lead-black-here = schwarze Prüfspitze hier
mark-lamp-5-here = eine Klemme der Prüflampe 5 W hier
mark-lamp-21-here = eine Klemme der Prüflampe 21 W hier
mark-bridge-here = eine Klemme der abgesicherten Brücke hier
mark-battery-plus-here = die Plusklemme der Prüfbatterie hier
mark-battery-minus-here = die Minusklemme der Prüfbatterie hier
mark-recorder-plus-here = die Plusleitung des Schreibers hier
mark-recorder-minus-here = die Minusleitung des Schreibers hier
mark-clamp-here = die Zange hier

point-take-first = Erst eine Prüfspitze oder Klemme in die Hand nehmen.
point-goes = Was in der Hand ist, kommt an die berührte Stelle.
point-take-red-off = Rote Prüfspitze abnehmen
point-take-black-off = Schwarze Prüfspitze abnehmen
point-bare-metal = Blankes Blech
point-out-of-reach = Nicht erreichbar: { $why }.

## Die Karte eines Steckverbinders

connector-unplug = Trennen
connector-plug = Zusammenstecken
connector-look = Genau ansehen
connector-mated = Zusammengesteckt: rückseitig abgreifen, der Stromkreis arbeitet wie sonst.
connector-open = Getrennt: von vorn abgreifen; was an diesem Steckverbinder hing, belastet nichts mehr.
connector-body-half = Karosserieseite
connector-lid-half = Hälfte an der { $lid }
connector-loom-half = Strangseite
connector-own-pins = Stifte des Bauteils
connector-scale = 5 mm. Jede Hälfte von der Steckseite gesehen, Rastnase oben: eine spiegelt die andere.
connector-scale-one = 5 mm. Blick in die Steckseite, Rastnase oben.
connector-cavity-title = Kammer { $cavity }:
connector-tug = An der Leitung ziehen
connector-terminal = Kontakt reinigen, richten oder erneuern ({ $price } Einheiten, 10 min)

# With another cavity: the button beside this list changes two terminals over.
connector-with = mit { $cavity }
connector-swap = Kontakte tauschen (10 min)
connector-touch-cavity = Eine Kammer mit leerer Hand berühren, um an ihrer Leitung zu ziehen oder den Kontakt instand zu setzen.

# With the repair kit or the cleaner in hand.
connector-which-cavity = Die Kammer berühren, deren Kontakt gereinigt, gerichtet oder erneuert werden soll; die Hälften müssen getrennt sein.

# Names of cavities for a screen reader and under the pointer.
connector-cavity = Kammer { $cavity }, { $wire }
connector-pin = Stift { $cavity }
connector-no-wires = Hier endet keine Leitung der Stromkreise, um die es geht: Es gibt nichts zu öffnen und nichts zu messen.
connector-empty = Kammer { $cavity }, leer
# On the half with the pins, where one was seen bent.
connector-pin-bent = der Stift ist zur Seite verbogen
# Such a name, with what is on the cavity or was seen there.
connector-cavity-more = { $cavity }; { $more }
part-fit = Neu einbauen: { $part } ({ $price } Einheiten, { $minutes } min)
part-read-memory = Speicher lesen
part-clear-memory = Speicher löschen
part-tap = Daran klopfen

# Of a heated screen. The number follows.
screen-line = Linie{" "}

# Follows a number: 3 of 8 parts of the way along the line, counted from the busbar that is fed.
screen-place = von { $sections } ab der gespeisten Schiene
screen-glass = Linie { $line }, { $place }/{ $sections } ab gespeister Schiene: mit dem, was in der Hand ist, antippen
screen-put = Dort anlegen
screen-paint = Abschnitt { $section } der Linie { $line } nachziehen ({ $price } Einheiten, 15 min)
place-warm = Mit Heißluft erwärmen
place-cool = Mit Kältespray kühlen

## Die Karte einer Stelle des Leitungsstrangs, eines Massebolzens, einer Verkleidung

station-flex = Strang hier bewegen
station-tape = Band öffnen und ansehen (4 min)
# In place of station-tape where the tape is open.
station-again = Noch einmal ansehen (4 min)
station-found = Bei offenem Band, nach { $minutes } min: { $found }
# { $mended } is loom-spliced or loom-twisted.
station-mended = Repariert, nach { $minutes } min: { $mended }
station-conductors = Leitungen an dieser Stelle:
station-choose = Eine auswählen, um sie hier zu reparieren oder die Zange darum zu schließen.
station-splice = Verbinden, schrumpfen, zugentlasten ({ $price } Einheiten, 20 min)
station-twist = Verdrillen und umwickeln ({ $price } Einheiten, 5 min)
station-clamp = Aus dem Strang lösen und die Zange darum schließen
stud-look = Ansehen und mit dem Finger prüfen
stud-clean = Bolzen und Ringöse reinigen, festziehen (8 min)
stud-thread = Gewinde des Bolzens
panel-back = Wieder anbringen ({ $minutes } min)
panel-off = Abnehmen oder umklappen ({ $minutes } min)

## Die Karte der Klappe

lid-shut = Zu, vom Schloss gehalten.
lid-first-catch = In der Vorraste.
lid-at-open-propped = Bei { $degrees }°, Drehfalle offen, abgestützt.
lid-at-open-unpropped = Bei { $degrees }°, Drehfalle offen, nicht abgestützt.
lid-at-closed-propped = Bei { $degrees }°, Drehfalle zu, abgestützt.
lid-at-closed-unpropped = Bei { $degrees }°, Drehfalle zu, nicht abgestützt.
lid-open-fully = Ganz öffnen
lid-push-shut = Zudrücken
lid-let-down = In die Vorraste lassen
lid-angle = Winkel
lid-hold = Dort halten
lid-prop = Abstützen
lid-secure = Sichern
lid-from-above = Von oben gesehen.
lid-claw = Drehfalle mit Werkzeug schließen
lid-lever = Hebel innen ziehen
lid-force = Schloss durch die Verkleidung aufbrechen (20 min)
lid-look = Hinsehen und hinhören
lid-is-wet = Das Heck ist nass.
lid-wet = Heck mit der Sprühflasche nässen
lid-dry = Trocken blasen
lid-wait = { $minutes } min warten
latch-claw = Drehfalle
latch-pawl = Sperrklinke
latch-striker = Schließbügel
latch-holds = Die Drehfalle hat den Schließbügel gefasst und hält die { $lid }.
latch-first-catch = Die Drehfalle hat sich halb gedreht und hält den Schließbügel auf der Vorraste.
latch-closed-empty = Die Drehfalle ist zu, ohne Schließbügel darin.
latch-waits = Die Drehfalle ist offen für den Schließbügel.

## Die Karte des Innenraums

cabin-switches = Schalter
cabin-press = Drücken: { $part }
cabin-lever = Hebel innen ziehen, über die Rückenlehne

# Opens the card of a panel or seat.
cabin-panel = { $panel } …
cabin-lockout = Entriegelungssperre
# Beside it, until it has been set: nobody has seen how it stands.
cabin-lockout-untried = Noch nicht probiert
state-on = Ein
state-off = Aus
# For a screen reader: one of two states of a switch or a setting.
state-of = { $what }: { $state }
cabin-fuses = Sicherungen: links Zuleitungsseite, rechts Lastseite
cabin-feed-side = { $fuse }, Zuleitungsseite
cabin-load-side = { $fuse }, Lastseite
cabin-rating = { $fuse }, { $amps } A
fuse-chosen = { $fuse }: { $stands }
fuse-is-out = ihr Platz ist leer
fuse-not-looked-at = noch nicht angesehen
fuse-was-whole = ihr Streifen war ganz
fuse-was-blown = ihr Streifen war durchgeschmolzen
fuse-was-loose = sie saß locker in ihren Federn
fuse-look = Ansehen
fuse-pull = Ziehen
fuse-put-back = Wieder stecken
fuse-clips = Federn nachbiegen
fuse-fit = Neu: { $amps } A
cabin-open = Öffnen: { $connector }
fuse-new = Neue Sicherungen, in Ampere:
fuse-as-slot = Wie am Steckplatz angegeben
fuse-amps = { $amps } A

## Unter der Motorhaube, Schlüssel, Werkzeuge

front-eyes = Hier die Augen schützen.
front-glasses-on = Schutzbrille aufgesetzt
front-put-glasses-on = Schutzbrille aufsetzen
front-prove-meter = Multimeter an der Batterie prüfen
front-charge = Batterie laden (40 min)
front-volts = 12 V
front-plus = Pluspol
front-minus = Minuspol
key-lock = Verriegeln
key-unlock = Entriegeln
key-release = { $lid } öffnen
key-about = Der Schlüssel hat auch einen mechanischen Bart. Innen sitzt die Knopfzelle.
key-new-cell = Neue Knopfzelle ({ $price } Einheiten)
key-new = Neuer Schlüssel, angelernt ({ $price } Einheiten, 25 min)
key-plus = Pluskontakt der Knopfzelle
key-minus = Minuskontakt der Knopfzelle
tray-about = Hier den Nennstrom wählen; eingesetzt wird am Steckplatz, im Innenraum.
tray-meter-fuse = Neue Sicherung ins Multimeter
tool-take = In die Hand nehmen
tool-about-lamp-5 = Zieht 0.4 A bei 12 V: leuchtet nur, wo der Stromkreis das tragen kann. Nicht an Signalleitungen von Steuergeräten.
tool-about-lamp-21 = Zieht 1.8 A bei 12 V wie eine Bremslampe: glimmt hinter einer schlechten Verbindung, die Messgerät oder kleine Lampe nicht zeigen.
tool-about-bridge = Verbindet zwei Punkte über eine Sicherung von 10 A: ersetzt eine Leitung, einen Schalter oder einen Kontakt. Nie über einen Verbraucher legen.
tool-about-bench = Eigene 12 V hinter einer Sicherung: betreibt ein Teil für sich, ohne die Leitungen des Fahrzeugs.
group-vehicle = Das Fahrzeug
group-loom = Der Leitungsstrang
group-meter = Das Multimeter
group-tools = Werkzeuge und Schlüssel
tool-first-plus = Die erste Klemme ist Plus.
tool-on = An { $from } und { $to }.
tool-blown = Die Sicherung ist durchgebrannt; beim nächsten Anklemmen kommt eine neue hinein.
tool-off = Abnehmen
meter-let-go = Kleinst- und Größtwert freigeben
meter-hold = Kleinst- und Größtwert halten
meter-hasty = Hastig abgreifen: ein Drittel der Zeit, aber vielleicht daneben
meter-where = Hinsehen und hinhören: Wo sind die Prüfspitzen?
clamp-goes = Sie greift um die Leitung einer Kammer oder um das Kabel am Pluspol der Batterie.
clamp-station = Am Leitungsstrang: eine Stelle öffnen und dort die Leitung wählen.
clamp-round = Um: { $what }.

## Kunde, Befunde, Bericht, Abgabe

# The customer's own words.
customer-says = „{ $words }“
customer-before = Vor der Arbeit am Fahrzeug
customer-read = Sicherheitshinweise gelesen
customer-again = Die Sicherheitshinweise, gelesen
customer-ask = Fragen (je eine Minute)
findings-none = Noch nichts.

# Heads of columns. Short.
findings-clock = Minuten
findings-done = Was getan wurde
findings-found = Was es zeigte
writing-about = Drei Zeilen. Die Messwerte angeben, die Ursache und Reparatur belegen.
writing-write = Aufschreiben
writing-count = { $count } von 3 Zeilen geschrieben.
hand-in-about = Mit der Abgabe endet der Auftrag: Der Fehler wird gezeigt, die Punkte werden vergeben.
hand-in-about-paper = Mit der Abgabe endet der Auftrag und sein Protokoll wird geschlossen. Das Ergebnis gibt bekannt, wer die Prüfung gestellt hat.
hand-in-named = Benannt: { $fault } ({ $percent } %)
hand-in-unnamed = Es ist kein Fehler benannt.
hand-in-lines = Bericht: { $count } von 3 Zeilen.
hand-in-left = Nicht wie vorher – { $what }.
hand-in-agreed = Der Kunde ist mit { $units } Einheiten einverstanden.
hand-in-untold = Dem Kunden ist nicht gesagt worden, was es kosten wird.
hand-in-repaired = Als repariert abgeben
hand-in-refer = Fehler nicht bestätigt: mit diesen Befunden weitergeben

## Tasten und Arbeitsweise

help-touch = Berühren, woran gearbeitet werden soll. Werkzeuge selbst berühren; Zeichen zeigen, was am Auto jetzt erreichbar ist:
help-probe = Eine Prüfspitze an den Buchsen des Multimeters nehmen, dann Kammer, Sicherungsseite, Bolzen oder Pol berühren.
help-tools = Prüflampen, Brücke und Prüfbatterie liegen auf dem Werkstattwagen; jede hat zwei Klemmen und bleibt, wo sie angebracht wird.
help-hand-tools = Verkleidungsheber, Reparatursatz und Kontaktreiniger hängen an der Rückwand des Werkstattwagens. Eines nehmen und berühren: Der Heber nimmt eine Verkleidung ab oder öffnet das Band des Strangs, die anderen bieten Reparaturen an.
help-recorder = Stromzange und Schreiber hängen an der Wand; scharf geschaltet zeichnet der Schreiber die nächste Handlung auf.
help-lid = Messleitungen bleiben dran, wenn das Heck geöffnet oder geschlossen wird: das Multimeter von außen beobachten.
help-minutes = Jede Handlung kostet Minuten, Teile kosten Geld. Ergebnisse stehen unten und unter Befunde.
help-tab = Tab, Umschalt+Tab: von einer Stelle zur nächsten.  Eingabe oder Leertaste: berühren.  Bild auf, Bild ab: blättern.
help-esc = Esc: ablegen, was in der Hand ist, oder die Karte schließen.
help-nearer = Klick auf das Fahrzeug neben den Zeichen, oder Mausrad: näher heran; ziehen: woanders hinsehen.  +  −  Rücktaste: näher, weiter weg, die ganze Halle.  Pfeiltasten, wenn keine Karte offen und nichts gewählt ist (Esc): woanders hinsehen.
help-keys-1 = F1 Tasten  ·  F2 Kunde  ·  F3 Befunde  ·  F4 Schaltplan
help-keys-2 = F5 Fehler benennen  ·  F6 Bericht  ·  F7 abgeben
help-keys-3 = F8 Klappe oder Hecktür  ·  F9 Schlüssel  ·  F10 alles nach Namen
help-keys-4 = F11 Verdacht  ·  F12 Trainer  ·  Pos1 Auftragstafel  ·  Ende Optionen
help-keys-5 = 1 Verkleidungsheber  ·  2 Reparatursatz  ·  3 Kontaktreiniger: nehmen oder weglegen

# What a sign on the drawing marks. Short.
sign-connector = Steckverbinder
sign-lamp = Stecker einer Leuchte
sign-loom = Leitungsstrang
sign-panel = Verkleidung oder Sitz
sign-stud = Massebolzen
sign-metal = blankes Blech
sign-handle = ziehen oder heben
sign-button = drücken
sign-fuse = Sicherung
sign-thing = alles andere

## Was eine Handlung brachte, am unteren Rand

caption-refused = Nicht möglich: { $why }.
caption-heard = Gehört: { $what }
caption-seen = Gesehen: { $what }
caption-others-dark = alle anderen Leuchten sind dunkel
caption-meter = Multimeter: { $reading }
caption-clamp = Zange: { $reading }
caption-recorder = Schreiber: { $reading }
caption-more = und mehr, unter Befunde (F3)
caption-breach = Verstoß: { $caution }
caption-in-hand = In der Hand: { $what }. Kammer, Sicherungsseite, Bolzen oder Pol berühren; sein eigener Platz oder Esc legt es ab.
hand-red-probe = rote Prüfspitze
hand-black-probe = schwarze Prüfspitze
hand-clamp = Stromzange
hand-clamp-not = Stromzange. Sie schließt sich um eine Leitung einer Kammer oder des Strangs oder um das Pluskabel der Batterie, aber nicht hier: { $point }.
hand-recorder-plus = Schreiber, Messleitung Plus
hand-recorder-minus = Schreiber, Messleitung Minus (Plus ist an { $point })

# With one of these in hand: what a touch does.
hand-trim = In der Hand: Verkleidungsheber. Eine Verkleidung berühren, um sie abzunehmen oder anzubringen, eine Stelle des Strangs, um ihr Band zu öffnen; Esc legt ihn weg.
hand-repair = In der Hand: Reparatursatz. Eine Stelle des Strangs oder einen Steckverbinder berühren: Die Karte zeigt die Reparaturen mit Preis; Esc legt ihn weg.
hand-cleaner = In der Hand: Kontaktreiniger. Einen Steckverbinder oder Bolzen berühren: Die Karte zeigt, was gereinigt werden kann; Esc legt ihn weg.

# What a touch does there with what is in hand, under the pointer: loom: hinge – Open the tape and look (4 min)
tool-would = { $place } – { $act }
tool-repair-here = Reparatur wählen
tool-clean-here = Reinigung wählen
hand-first-clip = { $tool }, erste Klemme
hand-second-clip = { $tool }, zweite Klemme (die erste ist an { $point })
trouble-another = Anderen Auftrag beginnen
trouble-understood = Verstanden
trouble-time-up = Die Zeit ist um: Es kann nur noch abgegeben werden.
trouble-no-answer = Der Trainer weiß hier keine Antwort: { $why }.
trouble-not-worked-out = Was die Schritte wert sind, lässt sich nicht berechnen.
trouble-ended = Etwas Unvorhergesehenes hat beendet, was hinter dem Fenster berechnet wurde. Was getan ist, ist gespeichert.
trouble-not-handed-in = Der Auftrag in diesem Protokoll ist nicht abgegeben.
trouble-marks-not-kept = Die Punkte konnten nicht beim Auftrag gespeichert werden: { $why }
trouble-no-folder = es gibt keinen Ordner für die Daten
trouble-job-not-kept = Dieser Auftrag wird nicht gespeichert: { $why }

## Stellen auf der Zeichnung und in der Liste aller Namen

# What the car is drawn as, where it has no drawing of its own.
spot-borrowed = gezeichnet als Kombi; der Schaltplan steht unter F4

# A lead and where it is: red: latch.3
spot-lead = { $lead }: { $point }
spot-lid = { $lid } (F8)
spot-press = drücken: { $part }
spot-lever = Hebel innen, über die Rückenlehne: ziehen
spot-loom = Leitungsstrang: { $station }
spot-cabin = Innenraum: Sicherungen, Schalter, Sperre
spot-front = unter der Motorhaube: Batterie
spot-key-lock = Schlüssel: verriegeln
spot-key-unlock = Schlüssel: entriegeln
spot-key-release = Schlüssel: { $lid } öffnen
spot-key = Schlüssel: näher ansehen (F9)
spot-meter-off = Multimeter: aus
spot-meter-volts = Multimeter: Volt
spot-meter-low-z = Multimeter: Volt, niederohmig
spot-meter-ohms = Multimeter: Ohm
spot-meter-tone = Multimeter: Durchgangston
spot-meter-diode = Multimeter: Diodentest
spot-meter-amps = Multimeter: Ampere, nur in Reihe
spot-meter-capture = Multimeter: Kleinst- und Größtwert halten
spot-red-take = rote Prüfspitze: nehmen
spot-red-back = rote Prüfspitze: zurückhängen
spot-black-take = schwarze Prüfspitze: nehmen
spot-black-back = schwarze Prüfspitze: zurückhängen
spot-meter = Multimeter: näher ansehen
spot-clamp = Stromzange
spot-recorder = Schreiber: Volt und Ampere über der Zeit
spot-trim-take = Verkleidungsheber: nehmen (1)
spot-lay-down = { $tool }: ablegen
spot-trim-back = Verkleidungsheber: weglegen (1)
spot-repair-take = Reparatursatz mit Lot und Schrumpfschlauch: nehmen (2)
spot-repair-back = Reparatursatz: weglegen (2)
spot-cleaner-take = Kontaktreiniger: nehmen (3)
spot-cleaner-back = Kontaktreiniger: weglegen (3)
spot-fuse-tray = Ersatzsicherungen, auch für das Multimeter

# On the meter's display, small.
display-tone = Ton

## Näher herangehen

near-go = Näher heran
near-go-key = Taste: Plus
near-whole = Ganze Halle
near-whole-key = Taste: Rücktaste
near-whole-with-key = Ganze Halle (Rücktaste)
near-clock = { $minutes } min, Teile { $cost }
near-meter = Multimeter: { $reading }
near-clamp = Zange: { $reading }

## Der Leitungsstrang in der Hand

loom-bend = Leitungsstrang bei { $station }: biegen
loom-along = am Leitungsstrang entlang zu { $station }
loom-along-open = am Leitungsstrang entlang zu { $station }, dort offen

# Above the name of a station on the ribbon: where the learner is, and whose tape has been opened. Short.
loom-here = hier
loom-open = offen
loom-here-open = hier, offen
loom-wires = { $count } Leitungen. Den Strang durch Ziehen biegen, dabei das Multimeter beobachten.
# What has been mended on the loom: on its card, and for a screen reader.
loom-spliced = { $wire } ist hier verbunden und eingeschrumpft worden
loom-twisted = { $wire } ist hier verdrillt und umwickelt worden

# On the meter's display while it holds the least and the greatest: before and after there are any.
display-holds = min max
display-held = min { $least }  max { $greatest }
# For a screen reader: the same with what stands beside it.
display-with = { $reading }; { $more }

## Punkte und Nachbesprechung

marks-marks = Punkte
marks-steps = Schritt für Schritt
marks-another = Noch ein Auftrag
marks-others = Auftragstafel
marks-car = Fahrzeug noch einmal ansehen
marks-truth = Der Fehler war: { $fault }
marks-named = Benannt wurde: { $fault } ({ $percent } %)
marks-of = { $marks } von { $most }
marks-total = Gesamt { $marks } von 100
# Von einem Auftrag, der weitergegeben wurde.
marks-referred = Der Auftrag wurde weitergegeben; Teile, Zeit und Nachweis zählen deshalb nur so weit wie die Diagnose: { $percent } %.
marks-scaled = Alles außer sicherer Arbeit zählt danach, wie weit der Auftrag kam: { $percent } %.
marks-handed-in = Abgegeben
marks-closed = Das Protokoll ist geschlossen und versiegelt. Das Ergebnis gibt bekannt, wer die Prüfung gestellt hat.
marks-end = Fenster schließen
marks-close-window = Das Fenster schließen; der nächste Auftrag der Prüfung beginnt, wenn sie wieder aufgenommen wird.
marks-none = Dafür gibt es keine Punkte. Das Protokoll ist gespeichert; an der Tafel lässt es sich noch einmal versuchen.
marks-weighing = Jeder Schritt wird mit dem verglichen, was sonst möglich gewesen wäre. Das dauert einige Sekunden, bei großen Aufträgen bis zu einer Minute.
debrief-curve = Was noch möglich war, in Bit, über den Minuten

# What the columns tell, a line each. They begin with the column's name, as below.
debrief-legend-told = erfahren: was der Schritt sagte, in Bit; ein Bit halbiert das Mögliche. Unter 0 hat er unsicherer gemacht.
debrief-legend-expected = erwartet: was er vorher erwarten ließ. Ein glücklicher Ausgang sagt mehr, ein anderer weniger.
debrief-legend-left = offen: Ursachen, die noch möglich sind, in Gruppen, die dieselbe Reparatur behebt.
debrief-legend-lost = verloren: Minuten, gegenüber dem, was bei der besten Wahl zu erwarten war.

debrief-clock = Minute
debrief-told = erfahren, Bit
debrief-expected = erwartet, Bit
debrief-left = offen
debrief-lost = verloren
debrief-done = was getan wurde
debrief-bits = Bit
debrief-plan-done = was zu tun ist
debrief-plan-title = Der Plan beim selben Fehler
debrief-practise = Als Nächstes üben: { $what }
debrief-minutes = Minuten
debrief-the-plan = der Plan

# The learner's own line in a plot.
debrief-you = eigener Weg
debrief-plot = Kurve dessen, was noch möglich war, über den Minuten; die Tabelle darunter nennt dasselbe in Zahlen

## Der Trainer

coach-rungs = Jede Stufe sagt mehr als die vorige. Jede kostet ihre Punkte nur einmal; nach der nächsten Handlung kostet sie wieder.
coach-thinking = Der Trainer denkt nach.
coach-again = Noch einmal hören, was er zuletzt gesagt hat, ohne Abzug
coach-since = Seitdem ist etwas getan worden: Es gilt vielleicht nicht mehr.

## Der Schreiber

recorder-take = Messleitungen in die Hand nehmen
recorder-first-plus = Die erste Leitung ist Plus.
recorder-on = Plus an { $plus }, Minus an { $minus }.
recorder-off = Messleitungen abnehmen
recorder-arm = Scharf schalten
recorder-disarm = Aufzeichnung abbrechen
recorder-armed = Scharf: Er zeichnet die nächste Handlung auf, die das Fahrzeug betätigt oder den Stromkreis schließt oder trennt.
recorder-about = Er zeichnet Volt mit seinen Messleitungen auf und Ampere mit der Zange. Scharf geschaltet tut er es bei der nächsten Handlung.
recorder-last = Zuletzt: { $act }

## Fehler benennen, Kostenvoranschlag

naming-wire = eine Leitung
naming-connector = ein Steckverbinder oder ein Kontakt darin
naming-part = ein Bauteil oder Steuergerät
naming-fuse = eine Sicherung oder ihre Federn
naming-ground = ein Massebolzen
naming-other = Schlüssel, Batterie oder eine Einstellung
naming-as-a-whole = im Ganzen
naming-cavity = Kammer { $cavity }
naming-line = Linie { $line }, Abschnitt { $section }

# In a list that has nothing to choose from before the one above it is filled in.
naming-later = erst die Zeile darüber
naming-choose = auswählen
choosing-find = zum Suchen tippen
choosing-none = nichts heißt so

# Labels before lists: what is faulty, which one, in what way, where, how sure.
naming-what = Was
naming-which = Welches
naming-way = Art des Fehlers
naming-where = Wo
naming-sure = Wie sicher
naming-name = Benennen
naming-so-far = Bisher benannt: { $fault } ({ $percent } %). Die letzte Benennung zählt.
estimate-about = Der Kunde will wissen, was es kostet, bevor etwas repariert wird. Bis jetzt sind es { $so_far } Einheiten; eine Stunde kostet { $hour } Einheiten, Teile kommen dazu.
estimate-in-all = Preis insgesamt

# Follows a sum of money: 100 units. Money has no name of a country's.
estimate-unit = {" "}Einheiten
estimate-tell = Dem Kunden sagen
estimate-agreed = Der Kunde ist mit { $units } Einheiten einverstanden. Das letzte Wort zählt.

## Die Verdachtsliste

suspicions-about = Zur eigenen Übersicht: Die Liste kostet keine Zeit und bringt keine Punkte. Nach der Abgabe zeigt sich, wie gut abgewogen wurde.
suspicions-suspect = Verdacht mit { $percent } % eintragen
suspicions-none = Noch steht nichts auf der Liste.
suspicions-strike = Streichen

# For a screen reader.
suspicions-strike-this = Streichen: { $fault }

## Die Auftragstafel

board-next = Weitermachen und üben
board-jobs = Alle Aufträge
board-records = Protokolle
board-settings = Optionen
# { $title } is the job's.
board-in-hand = In Arbeit: { $title }. Der Stand ist gespeichert. Wird der Auftrag verlassen, wartet er hier.
board-in-hand-not-kept = In Arbeit: { $title }. Dieser Auftrag wird nicht gespeichert: Beim Verlassen geht verloren, was daran getan ist.
board-back = Zurück zum Auftrag
board-leave = Auftrag verlassen
board-left = Unfertige Aufträge
board-go-on = Weiter
# What a screen reader says of the button; { $when } is "3 hours ago".
board-go-on-with = Weiter: { $title }, { $when }
board-put-away = Weglegen
board-put-away-this = Weglegen: { $title }, { $when }
board-put-away-about = Der Auftrag steht nicht länger hier. Seine Datei kommt in den Ordner put-away neben den anderen.
board-left-when = Zuletzt bearbeitet: { $when }; { $minutes } min auf seiner Uhr.
board-in-use = Gerade geöffnet.
board-done = Abgegebene Aufträge, die neuesten zuerst
board-marked = { $date }: { $total } von 100
board-unmarked = { $date }: abgegeben, die Punkte sind noch nicht berechnet.
# A file among the records that is none, and why.
board-unreadable = Das ist kein lesbares Protokoll: { $why }
board-open = Ansehen
# What a screen reader says of the button; { $told } is "2026-03-01: 71 of 100".
board-open-this = Ansehen: { $title }, { $told }
# The sheet of a record.
record-cannot = Dieses Protokoll kann nicht gezeigt werden und bleibt, wie es ist. { $why }
record-replayed = Der Auftrag wird nachgespielt, wie er im Protokoll steht, und jeder Schritt mit dem verglichen, was sonst möglich gewesen wäre.
record-back = Zurück zur Auftragstafel
ago-now = gerade eben
ago-minutes =
    { $count ->
        [one] vor einer Minute
       *[other] vor { $count } Minuten
    }
ago-hours =
    { $count ->
        [one] vor einer Stunde
       *[other] vor { $count } Stunden
    }
ago-days =
    { $count ->
        [one] vor einem Tag
       *[other] vor { $count } Tagen
    }
shelf-practise = Als Nächstes üben
shelf-begin = Beginnen
shelf-first = Der erste Auftrag, Schritt für Schritt
shelf-all = Alle Aufträge, die leichtesten zuerst

# Heads of columns. Short.
shelf-title = Auftrag
shelf-difficulty = Schwierigkeit
shelf-minutes = Minuten
shelf-skill = Übt
shelf-best = Bestwert
shelf-of-five = { $difficulty } von 5

# Where a job has not been done yet.
shelf-no-mark = –

# The same in one line.
shelf-figures = Schwierigkeit { $difficulty } von 5, { $minutes } min, { $skill }, Bestwert { $best }

# Why a job is suggested: a sentence. { $skill } is one of the skills below.
shelf-why-first = Hier anfangen: { $minutes } Minuten Arbeit an einem Fehler, dabei zeigt sich, wie hier gearbeitet wird.
shelf-why-new = Aus „{ $skill }“ ist noch kein Auftrag gemacht; dieser hat Schwierigkeit { $difficulty } von 5.
shelf-why-further = Noch ein unbekannter Auftrag aus „{ $skill }“, Schwierigkeit { $difficulty } von 5.
shelf-why-badly =
    { $jobs ->
        [one] Dieser Auftrag war der letzte und ging schlecht: noch einmal versuchen. Er übt „{ $skill }“.
       *[other] Dieser Auftrag ging zuletzt, vor { $jobs } Aufträgen, schlecht: noch einmal versuchen. Er übt „{ $skill }“.
    }
shelf-why-keep-up =
    { $jobs ->
        [one] Dieser Auftrag war der letzte und ging gut; noch einmal, damit „{ $skill }“ in Übung bleibt.
       *[other] Dieser Auftrag ging zuletzt, vor { $jobs } Aufträgen, gut; noch einmal, damit „{ $skill }“ in Übung bleibt.
    }

# For a screen reader: the button's words and the scenario's title.
shelf-begin-this = { $begin }: { $title }

# The vehicle and the circuit.
shelf-about = { $vehicle }; { $circuits }
shelf-progress = Bisheriger Fortschritt
shelf-progress-about = Anteil der Punkte je Fertigkeit: Der letzte Auftrag zählt halb, der davor ein Viertel und so weiter.
shelf-none = Auf diesem Rechner ist noch kein Auftrag abgegeben worden.
shelf-marks = Punkte von 100, Auftrag für Auftrag
shelf-plot = Punkte aller Aufträge: { $marks }

## Der Schaltplan

diagram-image = Schaltplan
# For a screen reader: what is on a point, and which point that is.
diagram-probe = { $what }: { $point }
# The last line of a list of them that is too long for its place; two at least.
diagram-probes-more = und { $count } weitere
diagram-drawn = Gezeichnet
diagram-in-words = In Worten
diagram-nearer = Näher
diagram-further = Weiter weg
diagram-whole = Ganzes Blatt
# Eine Liste von allem, was gezeichnet ist: womit die Tastatur etwas auf dem Blatt berührt.
diagram-by-name = Nach Namen wählen
diagram-readings = alle Messwerte, gegen Batterie-Minus
diagram-moving = Ziehen oder Pfeiltasten bewegen, Mausrad oder + und − ändern den Maßstab.
diagram-pins = Belegung
diagram-conductors = Leitungen
diagram-loom = Leitungsstrang
diagram-places = Einbauorte
diagram-instruments = Messgeräte
diagram-touch = Leitung, Kammer oder Symbol berühren, um zu sehen, was es ist, oder es zu markieren.
diagram-good = nachweislich gut
diagram-suspect = verdächtig
diagram-unknown = nicht bekannt
diagram-show = Am Fahrzeug zeigen
thing-conductor = { $conductor }, { $size } mm²
thing-at-station = { $conductor } bei: { $station }

# Written on the sheet beside pins and symbols. Short.
drawn-supply = Versorgung
drawn-ground = Masse
drawn-feed = Zuleitung
# What hangs together on one pin.
drawn-common = gemeinsam
drawn-coil = Spule
drawn-contact = Kontakt
# A latch's motor or solenoid, the switch that tells that it is open, and the one that tells that its claw is home.
drawn-drive = Antrieb
drawn-ajar = offen
drawn-claw-home = Falle zu

## Der erste Auftrag, Schritt für Schritt

first-title = Der erste Auftrag
first-about = Die Klappe eines Steilhecks öffnet nicht. Die Ursache finden, reparieren und die Reparatur nachweisen; ein Zettel nennt jeden Schritt. Es dauert ein paar Minuten. Es ist ein Auftrag wie jeder andere und wird auch so bewertet.
first-show = Beginnen
first-know = Ohne Zettel zur Tafel
first-settings = Optionen (Ende)
first-step = Schritt { $step } von { $all }
first-no-more = Keine Zettel mehr
first-step-1 = Links hängt das Auftragsblatt. Die Worte des Kunden sind jetzt offen: Sie lesen, darunter auch die Sicherheitshinweise, und diese bestätigen. Dann die Karte mit Esc schließen.
first-step-2 = Die Beanstandung selbst nachvollziehen. Den Schlüssel auf dem Werkstattwagen rechts berühren oder F9 drücken, dann seine Taste zum Öffnen drücken. Was zu sehen und zu hören ist, steht in Worten am unteren Rand.
first-step-3 = Das Fahrzeug piept, also arbeiten Schlüssel und Steuergerät; aber das Schloss bewegt sich nicht. Was speist das Schloss? Den Schaltplan mit F4 öffnen, Sicherung F1 suchen, dann den Schaltplan schließen.
first-step-4 = Jetzt messen. Den Drehschalter des Multimeters bei V berühren (rechts).
first-step-5 = Die schwarze Prüfspitze kommt an den Minuspol der Batterie. Die Batterie auf dem Bild an der Wand berühren und dort die Schutzbrille aufsetzen: Eine Batterie kann platzen. Dann die schwarze Prüfspitze an ihrer Buchse am Multimeter nehmen und Minus berühren.
first-step-6 = Die Sicherungen sind im Innenraum: Ihn auf dem Bild an der Wand berühren. Die rote Prüfspitze nehmen und F1 auf der Lastseite berühren, der rechten: Hinter einer heilen Sicherung liegt Batteriespannung. Die Karte bleibt offen, während die Prüfspitze geholt wird.
first-step-7 = Hinter der Sicherung kommt nichts an: Sie ist unterbrochen, oder nichts kommt bis zu ihr. Die rote Prüfspitze wieder nehmen und F1 auf der Zuleitungsseite berühren, der linken.
first-step-8 = Spannung vor der Sicherung, keine dahinter: Die Sicherung ist unterbrochen. Das ist der Nachweis, in drei Minuten. Den Fehler mit F5 benennen: Sicherung F1, durchgebrannt. Dort auch sagen, was es kosten wird.
first-step-9 = Wieder im Innenraum F1 berühren und eine neue mit gleichem Nennstrom einsetzen. Eine stärkere wäre Brandgefahr.
first-step-10 = Die Reparatur nachweisen: Prüfspitzen abnehmen, Klappe zu lassen und am Schlüssel noch einmal auf Öffnen drücken.
first-step-11 = So endet jeder Auftrag: Klappe wieder schließen (F8), Benachbartes versuchen (mit dem Schlüssel entriegeln: die Blinker leuchten auf), Beanstandung, Ursache und Abhilfe aufschreiben (F6) und abgeben (F7). Dann ist zu sehen, was jeder Schritt wert war.

## Das Blatt der Lehrkraft

author-slip = In der Datei ist ein Fehler: den zuerst beheben.
author-not-saved = { $path } wurde nicht gespeichert: { $why }
author-save = Datei speichern
author-undo = Hier Geändertes zurücknehmen
author-comments = Kommentare und Form bleiben, wie sie sind.
author-broken = So wie die Datei jetzt gespeichert ist, kann sie nicht gespielt werden. Zu sehen ist ihr Stand davor.
author-parted = Sie wurde anderswo gespeichert, während hier etwas geändert war. Speichern überschreibt das; Zurücknehmen übernimmt es.
author-trying = Die Datei ist in Ordnung. Alle Fehler werden gerade durchgespielt.
author-sound = Die Datei ist in Ordnung, und jeder Fehler führt zur Beanstandung. Was anderswo gespeichert wird, erscheint sofort.
author-found = Sie kann gespielt werden, aber dies fiel auf:
author-words = Worte und Bewertung
author-pool = Die möglichen Fehler
author-here = Hier
author-try = Zeigen

# Heads of columns. Short.
author-weight = Gewicht
author-share = Anteil
author-fault = Fehler

# For a screen reader: buttons of a row, with the fault they are about.
author-try-this = Zeigen: { $fault }
author-weight-of = Gewicht von: { $fault }
author-take-out = Entfernen
author-take-out-this = Entfernen: { $fault }
author-one-more = Ein weiterer Eintrag der Liste
author-add = Hinzufügen
author-title = Titel
author-customer = Was der Kunde sagt
author-other-words = Andere Worte, die er stattdessen sagen kann, je eine Zeile
author-words-elsewhere = Titel und Worte in anderen Sprachen werden in der Datei geändert, bei titles und words.
author-varies = In jedem Auftrag neu gezogen:
author-varies-cavities = Kammern
author-varies-colours = Leitungsfarben
author-varies-stations = Stellen am Strang
author-varies-words = die Worte des Kunden
author-par = Richtzeit

# After a number.
author-min = {" "}min
author-par-name = Richtzeit in Minuten
author-yard = Temperatur
author-celsius = Temperatur im Hof
author-locked = verriegelt
author-wet = nass
author-coach = der Trainer darf gefragt werden
author-kit = Erlaubt:
kit-meter = Multimeter
kit-lamp = Prüflampe
kit-bridge = Brücke
kit-bench = Prüfbatterie
kit-clamp = Zange
kit-recorder = Schreiber
author-limited = begrenzt auf
author-limit-name = Minuten, bis nur noch abgegeben werden kann
author-limit = auf der Uhr des Auftrags; danach kann nur noch abgegeben werden
author-marks = Gewichte der Punkte
author-weight-diagnosis = Diagnose
author-weight-reasoning = Vorgehen
author-weight-parts = Teile
author-weight-time = Zeit
author-weight-proof = Nachweis
author-weight-safety = Sicherheit
author-weight-name = Gewicht: { $part }

## Was am Fahrzeug benannt werden kann

# A thing that can be faulty.
component-key = Schlüssel
component-battery = Batterie
component-lockout = Einstellung Entriegelungssperre

# Points that a lead can touch.
point-body = Blech der Karosserie
point-cavity = { $connector }, Kammer { $cavity }
# In place of a connector: the half that the loom does not have.
point-own-pins = { $connector }, Stifte des Bauteils
point-fuse-feed = { $fuse }, Zuleitungsseite
point-fuse-load = { $fuse }, Lastseite
point-battery-plus = Batterie, Pluspol
point-battery-minus = Batterie, Minuspol
point-key-plus = Knopfzelle des Schlüssels, Pluskontakt
point-key-minus = Knopfzelle des Schlüssels, Minuskontakt
point-line = { $part }, Linie { $line }, { $place }/{ $sections } des Weges
tool-lamp-5 = Prüflampe 5 W
tool-lamp-21 = Prüflampe 21 W
tool-bridge = abgesicherte Brücke
tool-bench-battery = Prüfbatterie
clamp-place-station = { $conductor } bei { $station }
clamp-place-cavity = die Leitung von { $point }
clamp-place-battery = das Pluskabel der Batterie

# The meter's settings.
setting-off = aus
setting-volts = Volt
setting-low-z = Volt, niederohmig
setting-ohms = Ohm
setting-tone = Ton
setting-diode = Diode
setting-amps = Ampere
precaution-read = Sicherheitshinweise lesen
precaution-eyes = Schutzbrille aufsetzen
precaution-prop = Klappe oder Tür abstützen

# The three lines of the write-up.
write-up-complaint = Beanstandung
write-up-cause = Ursache
write-up-correction = Abhilfe

## Arten von Fehlern

kind-open = Unterbrechung
kind-high-resistance = hoher Widerstand
kind-short-to-ground = Schluss gegen Masse
kind-short-between = Schluss zu anderer Leitung
kind-short-inside = innerer Schluss
kind-crossed = vertauscht
kind-blown = durchgebrannt
kind-wrong-part = falsches Teil
kind-loose = lose
kind-stiff = schwergängig
kind-jammed = klemmt
kind-worn = verschlissen: arbeitet nur, wenn gerade Kontakt da ist
kind-stuck-on = hängt: schaltet nicht mehr ab
kind-stays-awake = bleibt wach: zieht Strom, obwohl es ruhen sollte
kind-dead = ohne Funktion: wird versorgt und angesteuert, gibt aber nichts aus
kind-deaf = reagiert nicht: bekommt das Signal und tut nichts
kind-flat = leer
kind-setting-left-on = Einstellung nicht zurückgenommen

# A fault in words: what is faulty, in what way, and where. Several are joined by fault-and.
diagnosis-whole = { $component }: { $kind }
diagnosis-station = { $component }: { $kind }, bei: { $station }
diagnosis-cavity = { $component }: { $kind }, Kammer { $cavity }
diagnosis-line = { $component }: { $kind }, Linie { $line }, Abschnitt { $section }
fault-and = { $one }, und { $other }

# A fault with more about it, where another one reads alike: when it is there, or how bad it is. One or several of what follows.
fault-with = { $fault }, { $what }
fault-lid-below = weniger als { $degrees }° offen
fault-lid-above = mehr als { $degrees }° offen
fault-lid-between = zwischen { $low }° und { $high }° offen
fault-flexed = beim Biegen ({ $percent } %)
fault-shaken = nach Zuschlagen oder Klopfen ({ $percent } %)
fault-turned = nach dem Stehenbleiben ({ $percent } %)
fault-colder = kälter als { $celsius } °C
fault-warmer = wärmer als { $celsius } °C
fault-wet = bei Nässe
fault-ohms = { $ohms } Ω
fault-strands = noch { $left } von { $of } Litzendrähten
fault-amps = ab { $amps } A
fault-volts = { $volts } V

## Was zu sehen war

# How bright a lamp is.
light-dark = dunkel
light-glimmer = nur ein Glimmen (etwa { $percent } % der Helligkeit)
light-faint = glimmt schwach (etwa { $percent } % der Helligkeit)
light-dim = trüb (etwa { $percent } % der Helligkeit)
light-little-dim = etwas trüb (etwa { $percent } % der Helligkeit)
light-bright = hell
seen-light = { $lamp }: { $light }
seen-flash = { $lamp } leuchtet kurz auf: { $light }
seen-dip = { $lamp } wird kurz dunkler: { $light }
seen-turns = { $part } dreht sich
seen-stands-still = { $part } steht still
seen-mist-clears = { $part }: Der Beschlag verschwindet an jeder Linie
seen-mist-no-line = { $part }: Keine Linie wird warm

# Numbers of lines, with commas.
seen-mist-stays = { $part }: Der Beschlag bleibt an Linie { $cold }
seen-mist-slow = { $part }: Der Beschlag verschwindet langsam an Linie { $slow }
seen-mist-stays-and-slow = { $part }: Der Beschlag bleibt an Linie { $cold } und verschwindet langsam an Linie { $slow }
# Was für $lid steht, wo nicht ihr Name genannt wird: eine Klappe oder eine Hecktür. Beide sind weiblich.
lid-word = Klappe
lid-word-door = Hecktür

seen-lid-sign-lit = Kombiinstrument: Die Anzeige „{ $lid } offen“ leuchtet
seen-lid-sign-dark = Kombiinstrument: Die Anzeige „{ $lid } offen“ ist dunkel
seen-lid-released = die { $lid } löst sich und springt etwas auf
seen-claw-opened = die Drehfalle öffnet
seen-lid-at = die { $lid } steht bei { $degrees }°
seen-prop-off = die Stütze wird weggenommen
seen-lid-shut = die { $lid } ist zu
seen-lid-first-catch = die { $lid } liegt in der Vorraste

# A module's blinking when its memory is read.
seen-blink-nothing = ein langes Blinken: nichts gespeichert
seen-blinks = es blinkt { $codes }
seen-blink-then = { $one }; dann { $other }
seen-blink-code = { $count }-mal ({ $meaning })
seen-blink-not-listed = nicht in der Liste
seen-no-blink = kein Blinken: Das Steuergerät antwortet nicht
seen-of = { $what }: { $look }
seen-meter-fuse-blown = die Sicherung des Multimeters ist durchgebrannt
seen-tool-fuse-blown = Sicherung durchgebrannt: { $tool }
seen-terminals-home = { $connector }: ganz eingerastet, Leitungen an ihrem Platz; zum Ansehen der Kontakte trennen
seen-terminals-sound = { $connector }: Kontakte gerade, blank und in einer Linie
seen-terminal = Kammer { $cavity } { $look }
seen-not-home = { $connector }: Die Hälften sind nicht ganz zusammen
seen-went-home = { $connector }: Diesmal rastet er mit einem Klick ein
seen-tug-holds = { $connector }, Kammer { $cavity }: Die Leitung hält
seen-tug-slides = { $connector }, Kammer { $cavity }: Der Kontakt rutscht zurück
seen-tug-stretches = { $connector }, Kammer { $cavity }: Die Leitung gibt nach und dehnt sich
seen-loom-sound = { $station }: Isolierung und Kupfer sehen gut aus
seen-stud-sound = sauber und fest
seen-stud-loose = die Ringöse lässt sich von Hand drehen
seen-stud-off = die Ringöse ist vom Bolzen ab
seen-stud-corroded = fest, aber weiß und grün verkrustet
seen-panel-off = { $panel }: aus dem Weg
seen-panel-on = { $panel }: wieder an seinem Platz
seen-done = erledigt
seen-wet = das Heck ist nass
seen-dry = das Heck ist wieder trocken
seen-reading-moved = der Messwert schwankt zwischen { $low } und { $high }
seen-probe-red = die rote Prüfspitze ist an: { $point }
seen-probe-black = die schwarze Prüfspitze ist an: { $point }
look-no-fuse = keine Sicherung gesteckt
look-fuse-blown = { $amps } A, der Schmelzstreifen ist durch
look-fuse-blown-loose = { $amps } A, der Schmelzstreifen ist durch, und die Federn klemmen nicht
look-fuse-whole = { $amps } A, der Schmelzstreifen ist ganz
look-fuse-whole-loose = { $amps } A, der Schmelzstreifen ist ganz, und die Federn klemmen nicht

# A terminal: follows the number of its cavity.
look-terminal-back = steht zurück
look-terminal-spread = hat eine aufgebogene Feder
look-terminal-corroded = ist grün korrodiert
look-terminal-bent = trifft auf einen verbogenen Stift der anderen Hälfte
look-terminal-colour = hält eine Leitung anderer Farbe als in der Belegung

# Wires where the tape of the loom is open.
look-parted = { $wire } ist durchgebrochen, das Kupfer getrennt
look-corroded = { $wire } ist grün und aufgequollen
look-frayed = { $wire } hängt nur noch an wenigen blanken Einzeldrähten
look-chafed = { $wire } ist blank gescheuert
look-chafed-together = { $one } und { $other } sind durchgescheuert und berühren sich
look-crusted = eine grüne, feuchte Kruste verbindet { $one } und { $other }
look-earlier-splice = { $wire } ist hier verdrillt und umwickelt worden

## Was zu hören war

heard-chirps =
    { $count ->
        [1] ein Piepton
        [2] zwei Pieptöne
       *[other] { $count } Pieptöne
    }
heard-motor-runs = der Schlossmotor läuft
heard-motor-strains = der Schlossmotor brummt und dreht nicht
heard-motor-twitches = das Schloss zuckt einmal und bleibt stehen
heard-plunger-hums = der Magnet des Schlosses brummt, und sein Anker bleibt, wo er ist
heard-relay-clicks = ein Relais klickt
heard-relay-chatters = ein Relais flattert
heard-latch-opens = das Schloss springt auf
heard-lever-binds = der Seilzug des Hebels spannt sich, und nichts gibt nach
heard-latch-takes = das Schloss rastet ein
heard-tone = das Multimeter piept
heard-tone-breaks = der Ton des Multimeters kommt und geht
heard-fuse-pops = ein Knall: die Sicherung einer Messleitung ist durch
heard-customer = der Kunde: „{ $words }“
heard-button-lock = die Verriegeln-Taste des Schlüssels klickt unter dem Daumen
heard-button-unlock = die Entriegeln-Taste des Schlüssels klickt unter dem Daumen
heard-button-release = die Öffnen-Taste des Schlüssels klickt unter dem Daumen

## Messwerte

# What the display shows now; before that it caught some figures.
reading-catches = die Anzeige zeigt kurz { $figures }, dann { $now }
reading-held = { $reading }; Kleinstwert { $least }, Größtwert { $greatest }
reading-with-tone = { $reading }, mit Ton
reading-clamp = Zange { $reading }
recording-channel = Kleinstwert { $least }, Größtwert { $greatest }
recording-over = { $channels } in { $milliseconds } ms

## Sicherheitshinweise

caution-restraint = Leitungen von Rückhaltesystemen (Airbag) nie abgreifen, speisen, überbrücken oder messen; eine gelbe Hülle ist eine Warnung, eine andere Farbe kein Beweis.
caution-eyes = An der Batterie und unter einer offenen Klappe die Augen schützen.
caution-lid = Die Klappe abstützen oder die Tür sichern, bevor dort gearbeitet wird; Hände weg von Schloss und Scharnier.
caution-nobody-inside = Niemand bleibt im geschlossenen Laderaum.
caution-no-piercing = Isolierung nicht anstechen; das Band öffnen und wieder schließen.
caution-fused-only = Nur über eine Messleitung mit eigener Sicherung überbrücken und speisen.
caution-ohms-on-live = Ohm, Ton und Diode brauchen einen spannungslosen Stromkreis; unter Spannung ist der Messwert wertlos.
caution-amps = In Stellung Ampere ist das Multimeter fast ein Kurzschluss: nur in Reihe, nie über eine Quelle.
caution-makers-procedure = Anweisung des Fahrzeugherstellers, örtliche Vorschriften und zugelassene Praxis gehen vor; wo sie es verlangen, Batterie-Masse abklemmen und warten.
caution-fuse-too-large = Eine Sicherung über dem Nennstrom des Steckplatzes schützt die Leitung dahinter nicht: Die Leitung wird zur Sicherung.
caution-heat = Hitze schmilzt Isolierung, Dichtungen und Verkleidung: mit Abstand erwärmen und das Gerät bewegen.
caution-claw = Die Drehfalle mit einem Werkzeug schließen, nie mit dem Finger; sie öffnet mit Kraft.
caution-spread-terminals = Offene Steckverbinder von vorn nur mit einer Spitze in Kontaktgröße abgreifen; eine zu dicke biegt die Feder auf. Wo es geht, rückseitig abgreifen.

## Warum etwas nicht ging: folgt auf „Nicht möglich:“

refusal-panel = es liegt hinter: { $panel }
refusal-lid-too-low = es ist nur bei offener { $lid } erreichbar, ab { $degrees }°
refusal-load-space = der Laderaum ist zu: { $lid } öffnen oder umklappen: { $panel }

# One of the two above for who types commands: { $name } is the panel's name in them.
refusal-take-off = { $why } ({ $name } abnehmen)
refusal-lid-held = das Schloss hält die { $lid }
refusal-claw-home = die Drehfalle ist schon zu; erst öffnen
refusal-lid-not-up = die { $lid } ist nicht offen
refusal-already-so = das ist schon so
refusal-mated = der Steckverbinder ist zusammengesteckt: das ist nicht erreichbar
refusal-not-mated = der Steckverbinder ist schon getrennt
refusal-empty-cavity = dort endet keine Leitung
refusal-no-fuse = dort steckt keine Sicherung
refusal-fuse-in-place = dort steckt eine Sicherung; sie erst ziehen
refusal-no-such-rating = eine Sicherung mit diesem Nennstrom ist nicht im Kasten
refusal-conductor-not-here = diese Leitung führt dort nicht vorbei
refusal-same-point = beide Enden sind am selben Punkt
refusal-meter-fuse-whole = die Sicherung des Multimeters ist heil
refusal-handed-in = der Auftrag ist abgegeben
refusal-no-coach = dieses Szenario hat keinen Trainer: es geht nur ohne Hilfe
refusal-not-allowed = dieses Gerät ist in diesem Auftrag nicht erlaubt
refusal-time-up = die Zeit dieses Auftrags ist um: er kann nur noch abgegeben werden
refusal-springs-back = er federt zurück: drücken
refusal-stays-put = er rastet ein: ein- oder ausschalten
refusal-meter-not-ready = das Multimeter ist aus, oder eine Messleitung berührt nichts
refusal-no-such-wait = nur 1 bis { $most } Minuten auf einmal warten
refusal-no-such-line = diese Linie oder diesen Abschnitt gibt es nicht
refusal-tool-in-the-way = eine Messleitung ist noch an den Stiften
refusal-recorder-not-ready = der Schreiber hat nichts aufzuzeichnen: seine Messleitungen an zwei Punkte legen oder die Zange um eine Leitung schließen
refusal-too-dear = der Kunde ist nicht einverstanden: höchstens { $most } Einheiten, und dafür will er hören, was der Fehler verlangt

# What a scenario forbids.
limit-not-allowed = In diesem Auftrag nicht erlaubt: { $names }.
limit-minutes = Nach { $minutes } Minuten auf der Uhr des Auftrags kann nur noch abgegeben werden.

## Handlungen, als Titel und in Listen: was getan wird. Dinge des Fahrzeugs stehen darin mit ihrem Namen aus dessen Datei

act-ask-title = fragen: { $question }
act-red-title = rote Messleitung an { $point }
act-black-title = schwarze Messleitung an { $point }
act-red-hastily-title = rote Messleitung hastig an { $point }
act-black-hastily-title = schwarze Messleitung hastig an { $point }
act-name = benennen: { $fault } ({ $percent } %)
act-suspect-no-longer = Verdacht streichen: { $fault }
act-suspect = Verdacht: { $fault } ({ $percent } %)
act-coach = Trainer fragen (Stufe { $rung })
act-estimate = dem Kunden sagen: es kostet { $units } Einheiten
act-write-complaint = schreiben: Beanstandung
act-write-cause = schreiben: Ursache
act-write-correction = schreiben: Abhilfe
act-ask-when = fragen: wann
act-ask-weather = fragen: Wetter
act-ask-load = fragen: Beladung
act-ask-work = fragen: frühere Arbeiten
act-ask-else = fragen: sonst etwas
act-cautions = Sicherheitshinweise lesen
act-glasses = Schutzbrille aufsetzen
act-prop = { $lid } abstützen
act-look = hinsehen und hinhören
act-key-lock = Schlüssel: verriegeln
act-key-unlock = Schlüssel: entriegeln
act-key-release = Schlüssel: { $lid } öffnen
act-press = drücken: { $part }
act-switch-on = einschalten: { $part }
act-switch-off = ausschalten: { $part }
act-lever = Hebel innen ziehen
act-force-latch = Schloss gewaltsam öffnen
act-lockout-on = Entriegelungssperre ein
act-lockout-off = Entriegelungssperre aus
act-lid-shut = { $lid } zudrücken
act-lid-catch = { $lid } in die Vorraste lassen
act-lid-up = { $lid } ganz öffnen
act-lid-angle = { $lid } bei { $degrees }° halten
act-claw-close = Drehfalle mit Werkzeug schließen
act-panel-off = abnehmen: { $panel }
act-panel-back = wieder anbringen: { $panel }
act-plug = zusammenstecken: { $connector }
act-unplug = trennen: { $connector }
act-inspect = genau ansehen: { $what }
act-tug = an der Leitung ziehen: { $point }
act-tape = Band öffnen: { $station }
act-flex = Strang bewegen: { $station }
act-meter-off = Multimeter: aus
act-meter-volts = Multimeter: Volt
act-meter-low-z = Multimeter: Volt, niederohmig
act-meter-ohms = Multimeter: Ohm
act-meter-tone = Multimeter: Ton
act-meter-diode = Multimeter: Diode
act-meter-amps = Multimeter: Ampere
act-capture-on = Kleinst- und Größtwert halten
act-capture-off = Kleinst- und Größtwert freigeben
act-red = rot an { $point }
act-black = schwarz an { $point }
act-red-off = rote Messleitung ab
act-black-off = schwarze Messleitung ab
act-red-hastily = rot hastig an { $point }
act-black-hastily = schwarz hastig an { $point }
act-read = ablesen
act-meter-prove = Multimeter an der Batterie prüfen
act-meter-fuse = neue Sicherung ins Multimeter
act-lamp-5 = Prüflampe 5 W an { $from } und { $to }
act-lamp-5-off = Prüflampe 5 W ab
act-lamp-21 = Prüflampe 21 W an { $from } und { $to }
act-lamp-21-off = Prüflampe 21 W ab
act-bridge = Brücke an { $from } und { $to }
act-bridge-off = Brücke ab
act-bench = Prüfbatterie an { $from } und { $to }
act-bench-off = Prüfbatterie ab
act-clamp = Zange um { $place }
act-clamp-off = Zange ab
act-recorder = Schreiber an { $from } und { $to }
act-recorder-off = Messleitungen des Schreibers ab
act-recorder-arm = Schreiber scharf schalten
act-recorder-disarm = Aufzeichnung abgebrochen
act-fuse-pull = ziehen: { $fuse }
act-fuse-look = ansehen: { $fuse }
act-fuse-back = wieder stecken: { $fuse }
act-fuse-fit = neu einsetzen, { $amps } A: { $fuse }
act-memory-read = Speicher lesen: { $part }
act-memory-clear = Speicher löschen: { $part }
act-wait = { $minutes } min warten
act-tap = klopfen: { $part }
act-wet = Heck nässen
act-dry = trockenblasen
act-warm = erwärmen: { $place }
act-cool = kühlen: { $place }
act-splice = verbinden: { $conductor }, bei { $station }
act-twist = verdrillen und umwickeln: { $conductor }, bei { $station }
act-terminal = Kontakt instand setzen: { $point }
act-swap = Kontakte { $first } und { $second } tauschen: { $connector }
act-clean = reinigen und festziehen: { $stud }
act-clips = Federn nachbiegen: { $fuse }
act-paint = Abschnitt { $section } der Linie { $line } nachziehen: { $part }
act-fit = neu einbauen: { $part }
act-fit-key-cell = neue Knopfzelle
act-fit-key = neuer Schlüssel, angelernt
act-charge = Batterie laden
act-mark-good = als gut markieren: { $thing }
act-mark-suspect = als verdächtig markieren: { $thing }
act-mark-unknown = als nicht bekannt markieren: { $thing }
act-hand-in = abgeben
act-refer = mit diesen Befunden weitergeben

## Fragen an den Kunden und seine Antworten. Jede Antwort hat drei Fassungen, die dasselbe sagen

question-when = Seit wann, und ist es immer so?
question-weather = Macht das Wetter einen Unterschied?
question-load = Spielt die Beladung eine Rolle?
question-work = Hat jemand zuletzt am Fahrzeug gearbeitet?
question-else = Geht es mit dem Schlüssel oder dem Taster, und ist sonst etwas am Heck auffällig?
answer-always-1 = Es ist immer so, jedes Mal.
answer-always-2 = Jedes Mal, ohne Ausnahme.
answer-always-3 = Richtig geht es gar nicht mehr.
answer-comes-1 = Es kommt und geht. Manchmal öffnet sie, als wäre nichts.
answer-comes-2 = Ab und zu geht es, und ich kann nicht sagen, warum.
answer-comes-3 = Nicht immer. An manchen Tagen ist alles gut, und dann ist es wieder da.
answer-at-once-1 = Es begann von einem Tag auf den anderen.
answer-at-once-2 = Eines Tages war es da, ganz plötzlich.
answer-at-once-3 = Am Tag davor war es noch in Ordnung.
answer-slowly-1 = Es wird seit einigen Wochen schlimmer.
answer-slowly-2 = Es fing vor einigen Wochen klein an und nimmt zu.
answer-slowly-3 = Woche für Woche ist es ein wenig schlimmer.
answer-worse-wet-1 = Nach Regen ist es schlimmer.
answer-worse-wet-2 = Wenn es geregnet hat, ist es schlimmer.
answer-worse-wet-3 = Bei nassem Wetter ist es schlimmer als sonst.
answer-only-wet-1 = Es ist nach Regen oder einer Wäsche so. Wenn alles trocken ist, geht es.
answer-only-wet-2 = Nur bei Nässe: nach Regen, oder wenn ich das Auto gewaschen habe. Trocken geht es.
answer-only-wet-3 = Regen macht es, oder die Waschanlage. Ist es getrocknet, fehlt nichts.
answer-cold-1 = Es ist an kalten Morgen so. Später am Tag geht es oft.
answer-cold-2 = Wenn es kalt ist, morgens. Gegen Mittag ist es oft weg.
answer-cold-3 = Bei Kälte tritt es auf. Wird der Tag wärmer, geht es oft.
answer-warm-1 = Es ist so, wenn das Auto in der Sonne gestanden hat.
answer-warm-2 = Bei Hitze, wenn es in der Sonne geparkt war.
answer-warm-3 = Wenn die Sonne auf das Auto geschienen hat, dann passiert es.
answer-knock-1 = Nach kräftigem Zuschlagen oder einem Stoß kann es wieder gehen, oder umgekehrt.
answer-knock-2 = Zuschlagen oder ein Stoß kann es beheben oder zurückbringen.
answer-knock-3 = Manchmal schlage ich drauf oder werfe sie zu, und dann ist es umgekehrt.
answer-weather-no-matter-1 = Nass oder trocken, ich sehe keinen Unterschied.
answer-weather-no-matter-2 = Das Wetter hat damit nichts zu tun, soweit ich sagen kann.
answer-weather-no-matter-3 = Regen oder Sonne, es ist immer gleich.
answer-pressing-1 = Wenn ich mich beim Drücken auf die Klappe ‚{ $lid }‘ lehne, löst sie sich manchmal.
answer-pressing-2 = Mit meinem Gewicht auf der Klappe ‚{ $lid }‘ geht sie beim Drücken manchmal auf.
answer-pressing-3 = Manchmal hilft es, beim Drücken gegen die Klappe ‚{ $lid }‘ zu schieben.
answer-load-no-matter-1 = Voll oder leer, es ist dasselbe.
answer-load-no-matter-2 = Was ich lade, macht keinen Unterschied.
answer-load-no-matter-3 = Mit Ladung und ohne ist es gleich.
answer-wiring-repaired-1 = Vor einiger Zeit hat jemand an den Leitungen der Klappe ‚{ $lid }‘ gearbeitet.
answer-wiring-repaired-2 = Da war etwas mit den Leitungen der Klappe ‚{ $lid }‘; das ist vor einiger Zeit repariert worden.
answer-wiring-repaired-3 = Ja, vor einiger Zeit hatte jemand die Leitungen der Klappe ‚{ $lid }‘ auseinander.
answer-fuse-changed-1 = Eine Sicherung wurde gewechselt, mit einer aus dem Handschuhfach.
answer-fuse-changed-2 = Ich habe eine Sicherung eingesetzt, die ich im Handschuhfach hatte.
answer-fuse-changed-3 = Nur eine Sicherung, eine Reserve, die im Handschuhfach lag.
answer-no-work-1 = Niemand hat etwas daran gemacht.
answer-no-work-2 = Nein, niemand.
answer-no-work-3 = Daran ist nichts gemacht worden, nein.
answer-key-nothing-1 = Der Schlüssel tut gar nichts: Er verriegelt nicht einmal.
answer-key-nothing-2 = Mit dem Schlüssel geht nichts, nicht einmal verriegeln.
answer-key-nothing-3 = Der Schlüssel ist tot: kein Verriegeln, kein Entriegeln, nichts.
answer-key-locks-1 = Der Schlüssel ver- und entriegelt, aber die Klappe ‚{ $lid }‘ öffnet er nicht.
answer-key-locks-2 = Ver- und entriegeln kann ich mit dem Schlüssel, nur die Klappe ‚{ $lid }‘ geht nicht auf.
answer-key-locks-3 = Verriegeln geht, Entriegeln geht. Die Klappe ‚{ $lid }‘ reagiert nicht auf den Schlüssel.
answer-key-opens-1 = Mit dem Schlüssel geht sie auf.
answer-key-opens-2 = Der Schlüssel öffnet sie.
answer-key-opens-3 = Wenn ich den Schlüssel nehme, geht sie auf.
answer-pad-opens-1 = Der Taster an der Klappe ‚{ $lid }‘ öffnet sie.
answer-pad-opens-2 = Mit dem Taster an der Klappe ‚{ $lid }‘ geht sie auf.
answer-pad-opens-3 = Wenn ich auf den Taster der Klappe ‚{ $lid }‘ drücke, geht sie auf.
answer-pad-not-1 = Der Taster an der Klappe ‚{ $lid }‘ öffnet sie nicht.
answer-pad-not-2 = Mit dem Taster an der Klappe ‚{ $lid }‘ geht sie nicht auf.
answer-pad-not-3 = Ich kann auf den Taster der Klappe ‚{ $lid }‘ drücken, wie ich will, sie geht nicht auf.
answer-lamp-dark-1 = Das bleibt dunkel: { $lamp }.
answer-lamp-dark-2 = Das leuchtet nicht: { $lamp }.
answer-lamp-dark-3 = Da kommt kein Licht: { $lamp }.
answer-lamp-dim-1 = Das ist trüb: { $lamp }.
answer-lamp-dim-2 = Das ist schwächer, als es sein sollte: { $lamp }.
answer-lamp-dim-3 = Das gibt wenig Licht: { $lamp }.
answer-starts-slowly-1 = Der Motor dreht beim Anlassen langsam.
answer-starts-slowly-2 = Beim Anlassen dreht der Motor, als wäre er müde.
answer-starts-slowly-3 = Er dreht beim Starten langsamer als früher.
answer-nothing-else-1 = Sonst ist alles gut, soweit ich gesehen habe.
answer-nothing-else-2 = Sonst ist mir nichts aufgefallen.
answer-nothing-else-3 = Alles andere ist in Ordnung, glaube ich.


## Was nicht ist, wie es war: folgt auf „Nicht wieder wie vorher:“

left-panel = abgenommen: { $panel }
left-plug = getrennt: { $connector }
left-switch = eingeschaltet: { $part }
left-fuse = { $fuse } ist gezogen
left-clip = noch angeklemmt: { $tool }
left-probe = mindestens eine Prüfspitze des Multimeters ist noch am Fahrzeug
left-clamp = die Zange ist noch um etwas geschlossen
left-lockout = die Entriegelungssperre ist eingeschaltet
left-recorder = die Messleitungen des Schreibers sind noch dran
left-lid = nicht geschlossen: { $lid }

## Punkte in Worten

part-diagnosis = Richtige Diagnose
part-reasoning = Vorgehen
part-parts = Keine unnötigen Teile
part-time = Zeit
part-proof = Nachweis der Reparatur
part-safety = Sicheres Arbeiten, Bericht
why-nothing-missed = Nichts versäumt.
why-not-earned = Nicht erreicht: { $points }.
# Of points that are given where nothing went against them.
why-too-little-done = Nicht gegeben, weil weniger als { $percent } % des Auftrags getan waren: { $points }.

# The minutes are written out, with a point.
lesson-reasoned = Von den { $spent } Minuten, die Entscheidungen brauchten, gingen { $lost } gegenüber dem Besten verloren, das zu erwarten war.

# { $wastes } is a list of the three that follow.
lesson-reasoned-wastes = Von den { $spent } Minuten, die Entscheidungen brauchten, gingen { $lost } gegenüber dem Besten verloren, das zu erwarten war: { $wastes }.
lesson-idle =
    { $count ->
        [one] { $count } Prüfung, die nichts sagen konnte
       *[other] { $count } Prüfungen, die nichts sagen konnten
    }
lesson-again =
    { $count ->
        [one] { $count } Wiederholung ohne Änderung
       *[other] { $count } Wiederholungen ohne Änderung
    }
lesson-hunches =
    { $count ->
        [one] { $count } Reparatur auf Verdacht
       *[other] { $count } Reparaturen auf Verdacht
    }
lesson-coached = Der Rat des Trainers kostete { $marks }.
lesson-evidence-early = Zu früh benannt: Nach den Befunden war es zu { $percent } % wahrscheinlich.
lesson-evidence = Nach den Befunden war es zu { $percent } % wahrscheinlich.
lesson-several = { $wrong } Fehler lagen zugleich vor, und jeder zählt gleich; benannt wurden { $named }.
lesson-nothing-named = Es wurde kein Fehler benannt.
lesson-referred = Ohne Benennung weitergegeben: ehrlich, und es zählt, was gefunden wurde.
lesson-wrong-component = Das benannte Bauteil ist nicht das fehlerhafte (benannt mit { $percent } %).
lesson-right-right = Richtiges Bauteil, richtige Art, richtige Stelle (benannt mit { $percent } %).
lesson-right-near = Richtiges Bauteil, richtige Art, nahe der Stelle (benannt mit { $percent } %).
lesson-right-wrong = Richtiges Bauteil, richtige Art, falsche Stelle (benannt mit { $percent } %).
lesson-wrong-right = Richtiges Bauteil, falsche Art, richtige Stelle (benannt mit { $percent } %).
lesson-wrong-near = Richtiges Bauteil, falsche Art, nahe der Stelle (benannt mit { $percent } %).
lesson-wrong-wrong = Richtiges Bauteil, falsche Art, falsche Stelle (benannt mit { $percent } %).
lesson-no-waste = Nichts wurde unnötig erneuert; die Teile kosten { $cost }.
lesson-waste =
    { $count ->
        [one] Eine Reparatur behob nichts; die Teile kosten { $cost }.
       *[other] { $count } Reparaturen behoben nichts; die Teile kosten { $cost }.
    }
lesson-time = { $minutes } Minuten (ohne Schutzmaßnahmen) bei einer Richtzeit von { $par }; volle Punkte bis zum 1.3-Fachen.
lesson-nothing-mended = Es wurde nichts repariert, also nichts nachgewiesen.
lesson-wrong-left = Am Fahrzeug stimmt noch etwas nicht.
lesson-not-retested = Die Beanstandung wurde bei geschlossenem Heck nicht nachgeprüft.
lesson-retest-failed = Die letzte Nachprüfung schlug fehl.
lesson-retested-few = { $good }-mal nachgeprüft; ein Fehler, der kommt und geht, braucht { $needed } Nachprüfungen.
lesson-retested = Die Beanstandung wurde bei geschlossenem Heck oft genug nachgeprüft.
lesson-retested-dry = Die Beanstandung wurde nicht bei geschlossenem und nassem Heck nachgeprüft, wie sie auftrat.
lesson-poor-joint = Eine Verbindung wurde nur verdrillt und umwickelt: Der Fehler kommt wieder.
lesson-neighbours = Benachbarte Funktionen wurden geprüft.
lesson-no-neighbours = Nach der Reparatur wurde keine benachbarte Funktion geprüft.
lesson-put-back =
    { $left ->
        [0] Alles ist wieder wie vorher.
        [one] Eine Sache ist nicht wieder wie vorher.
       *[other] { $left } Sachen sind nicht wieder wie vorher.
    }
safety-cautions = Sicherheitshinweise lesen
safety-eyes = an der Batterie die Augen schützen
safety-lid = Klappe oder Tür vor der Arbeit dort abstützen
safety-ohms = kein Ohm an Stromkreisen unter Spannung
safety-amps = kein Ampere über Quellen
safety-fuse = keine Sicherung über dem Nennstrom des Steckplatzes
safety-wrote-complaint = Beanstandung in ein paar Worten
safety-wrote-cause = Ursache in ein paar Worten
safety-wrote-correction = Abhilfe in ein paar Worten
safety-figure-complaint = ein Messwert in der Beanstandung
safety-figure-cause = ein Messwert in der Ursache
safety-figure-correction = ein Messwert in der Abhilfe
calibration-on-a-line = Die Verdachtsliste gab dem wahren Fehler { $percent } %: Brier-Wert { $brier } (0 ist am besten, 2 am schlechtesten) und { $bits } Bit Überraschung; das bringt keine Punkte.
calibration-off-the-lines = Die Verdachtsliste hatte keine Zeile für den wahren Fehler und gab etwas anderem { $percent } %: Brier-Wert { $brier } (0 ist am besten, 2 am schlechtesten) und { $bits } Bit Überraschung; das bringt keine Punkte.
cap-amps = Gefährliche Handlung (Ampere über eine Quelle): Mehr als { $most } insgesamt sind nicht möglich; { $off } abgezogen.
cap-other = Gefährliche Handlung: Mehr als { $most } insgesamt sind nicht möglich; { $off } abgezogen.
bill-untold = Rechnung: Arbeit { $labour }, Teile { $parts }, insgesamt { $total }. Dem Kunden wurde vorher nicht gesagt, was es kostet.
bill-over = Rechnung: Arbeit { $labour }, Teile { $parts }, insgesamt { $total }. Vereinbart waren { $agreed }: { $over } mehr als das.
bill-agreed = Rechnung: Arbeit { $labour }, Teile { $parts }, insgesamt { $total }. Vereinbart waren { $agreed }.
comeback-same = Einige Tage später ist der Kunde wieder da: „Es ist genau wie vorher.“
comeback-joint = Einige Wochen später ist der Kunde wieder da: Die nur verdrillte Verbindung hat sich gelöst.
comeback-left = Der Kunde ist am selben Tag wieder da: „Hier ist etwas nicht so, wie ich es gebracht habe.“

## Die Nachbesprechung, Schritt für Schritt

step-nothing = es war nicht möglich
step-idle = es konnte nichts darüber sagen, welche Reparatur nötig ist
step-again = dasselbe wie zuvor, ohne Änderung
step-preparation = abgegeben, bevor daraus eine Prüfung wurde, die mögliche Fehler unterscheidet
step-repair = eine Reparatur, die zu { $percent } % die nötige war
step-better-mend = besser: { $acts } (die Befunde reichten zur Reparatur)
step-better = besser: { $acts } ({ $bits } Bit in { $minutes } min)
step-unlisted = nichts falsch, oder etwas, das nicht auf der Liste steht
step-more = { $count } weitere, die dieselbe Reparatur behebt

# Joins faults of which one is it: see the two messages above.
step-or = { $one }, oder { $other }
step-left = danach noch möglich:
# { $group } is one or more faults that the same repair mends; a line each.
step-percent = – { $percent } % { $group }
step-possible = { $causes } in { $groups }
step-free = frei
waypoint-start = wie das Fahrzeug hereinkommt
waypoint-mend = reparieren: { $acts }
practice-evidence = Einen Fehler erst benennen, wenn die Befunde andere ausschließen: vorher laut sagen, welcher andere Fehler dieselben Messwerte ergäbe.
practice-naming = Den Befunden bis zum Ende folgen: Bauteil, Art und Stelle. Ist die Leitung bekannt, die Unterbrechung bis auf eine Stelle eingrenzen.
practice-no-hunches = Ein Bauteil erst an seinem eigenen Steckverbinder als schlecht nachweisen, mit eigener Zuleitung und Masse unter Last, dann ein neues einbauen.
practice-telling-tests = Vor dem Anschließen sagen, welcher Messwert bei jedem noch möglichen Fehler zu erwarten ist; ist er bei allen gleich, eine andere Prüfung wählen.
practice-better-tests = Die Prüfung suchen, die das Verbleibende für ihre Minuten am ehesten halbiert: erst schnell und von außen, dann unter Last, dann durch Zerlegen.
practice-time = Dieselben Prüfungen mit weniger Handgriffen machen: Messleitungen dort lassen, wo sie zweimal gebraucht werden.
practice-proof = Nach der Reparatur unter den Bedingungen der Beanstandung zeigen, dass sie weg ist, eine Nachbarfunktion prüfen und alles zurückstellen.
practice-safety = Arbeiten, als würden zuerst die Sicherheitshinweise bewertet: sie lesen, Augen schützen, Klappe oder Tür abstützen und Beanstandung, Ursache und Abhilfe mit je einem Messwert aufschreiben.
practice-harder = Nichts fällt auf: einen schwereren Auftrag nehmen.

## Was der Trainer sagt

# { $acts } are acts, and { $precautions } a sentence with a space before it, or nothing.
advice-kind = { $kind }.
advice-kind-where = { $kind }: { $place }.
advice-test = { $acts }. { $causes }; das teilt sie in { $groups } und bringt voraussichtlich { $bits } Bit, in { $minutes } Minuten.{ $precautions }
advice-repair = { $acts }. { $causes }; dass dies den Fehler behebt, ist zu { $percent } % wahrscheinlich, und keine Prüfung ist vorher ihre Zeit wert: { $minutes } Minuten mit Wiederherstellen und Probe.{ $precautions }
advice-finish = Nach den Befunden ist nichts mehr zu reparieren. Nachweisen, dass die Beanstandung weg ist, alles wieder herstellen wie vorher, Bericht schreiben, abgeben.
advice-causes =
    { $count ->
        [one] Eine Ursache ist noch möglich
       *[other] { $count } Ursachen sind noch möglich
    }
advice-groups =
    { $count ->
        [one] 1 Gruppe
       *[other] { $count } Gruppen
    }
advice-prop-and-glasses = {" "}Klappe oder Tür abstützen, sobald sie offen ist, und an der Batterie eine Brille tragen.
advice-prop = {" "}Klappe oder Tür abstützen, sobald sie offen ist.
advice-glasses = {" "}An der Batterie eine Brille tragen.
coaching-next = die nächste Stufe ist coach { $number }, { $says }: sie kostet { $marks }
coaching-all-said = der Trainer hat alles gesagt; es kostet nichts mehr, bis etwas getan worden ist
coaching-price = { $next } (alle Stufen: { $prices }; bisher: { $cost })
coaching-rung-price = coach { $number }, { $marks }
rung-question = eine Frage an sich selbst
rung-kind = die Art der Prüfung, und wo
rung-test = die genaue Prüfung, und warum

# { $price } is `given` or a number of marks.
rung-button = { $number }. { $says } ({ $price })
rung-given = gegeben
coached-so-far = Der Trainer hat bisher { $marks } gekostet.
marks-count =
    { $count ->
        [one] 1 Punkt
       *[other] { $count } Punkte
    }
doubt-complaint = Ist die Beanstandung selbst gesehen und gehört worden, so wie sie der Kunde schildert?
doubt-setting = Ist überhaupt etwas defekt, oder steht eine Einstellung im Weg?
doubt-command = Wird der Befehl nicht gegeben, oder gegeben und nicht ausgeführt?
doubt-feed-or-ground = Fehlt die Zuleitung oder die Masse?
doubt-wiring-or-part = Ist es die Leitung oder das, wohin sie führt?
doubt-side = Liegt es in der Karosserie, am Scharnier oder in Klappe oder Tür? Welcher Steckverbinder würde es zeigen?
doubt-lid-position = Kommt es darauf an, wie weit das Heck offen steht? Bei welchem Winkel ändert es sich?
doubt-comes-and-goes = Ist es immer so, oder kommt und geht es? Was würde es zurückbringen?
doubt-apart = Was sähe anders aus, wenn von den verbleibenden Ursachen die eine stimmte und nicht die andere?
doubt-enough = Ist es sicher genug für eine Reparatur? Was würde eine falsche kosten, und was würde eine weitere Prüfung sagen?
means-ask = Den Kunden fragen
means-look = Genau ansehen
means-command = Betätigen, hinsehen und hinhören
means-part-way = Bei halb offen gehaltenem Heck betätigen, hinsehen und hinhören
means-provoke = Es hervorrufen: nach einem Stoß, bei Nässe oder mehrmals betätigen
means-memory = Lesen, was das Steuergerät gespeichert hat
means-volts-at-rest = Spannung in Ruhe messen
means-volts-commanded = Spannung während des Befehls messen, Kleinst- und Größtwert halten
means-lamp = Eine Prüflampe anstelle der Last anschließen und den Befehl geben
means-ohms = Widerstand bei getrenntem Steckverbinder messen
means-flex = Den Leitungsstrang bewegen und das Multimeter beobachten
means-tape = Das Band öffnen und die Leitungen ansehen
means-tug = Leicht an einer Leitung ziehen
means-repair = Es ist Zeit, etwas zu reparieren
where-at-the = bei: { $what }
where-between = von { $one } bis { $other }
where-at = bei { $what }
where-battery = an der Batterie
where-key = mit dem Schlüssel

## Die Verdachtsliste in Worten

suspected = verdächtig: { $fault } ({ $percent } %)
suspected-rest = bleibt für anderes: { $percent } %
suspected-overfull = auf der Verdachtsliste stehen insgesamt { $percent } %: für die Bewertung werden sie auf 100 % gebracht, und für anderes bleibt nichts

## Was zu üben ist, und die Stromkreise eines Szenarios

skill-complaint = Beanstandung und Einstellungen
skill-feeds = Zuleitung und Masse
skill-load = Prüfen unter Last
skill-loom = Leitungsstrang und Wackelkontakte
skill-modules = Relais, Schalter, Steuergeräte
skill-proof = Nachweis und Sicherheit
next-new = neu
next-badly =
    { $jobs ->
        [one] ging schlecht, vor 1 Auftrag
       *[other] ging schlecht, vor { $jobs } Aufträgen
    }
next-keep-up =
    { $jobs ->
        [one] zur Auffrischung, vor 1 Auftrag
       *[other] zur Auffrischung, vor { $jobs } Aufträgen
    }
level =
    { $jobs ->
        [one] { $percent } %, 1 Auftrag
       *[other] { $percent } %, { $jobs } Aufträge
    }
level-none = noch nicht geübt
circuit-of-many = was { $switch } schaltet, { $count } beobachtet
circuit-rest = Ruhestrom

## Das Fahrzeug in Worten: Belegung, Einbauorte, Leitungsstrang, Leitungen. Tabellen in Zeichen gleicher Breite; Leerzeichen am Zeilenanfang setzt das Programm

zone-front = unter der Motorhaube
zone-cabin = im Innenraum
zone-outside = außen
zone-load-space = im Laderaum
zone-lid = innen an der { $lid }

# { $panel } is the panel's name in commands.
zone-behind = { $zone }, hinter { $panel }
words-titled = { $name } ({ $title }), { $place }
words-panels = Verkleidungen und Sitze:
words-panel = { $title } ({ $off } min ab, { $on } min zurück)
words-studs = Massebolzen:
words-stud = { $title }, { $place }
words-battery = Batterie: { $place }
words-fuses = Sicherungen: { $place }
words-reached = Die Innenseite der { $lid } und der Laderaum sind erreichbar, wenn die { $lid } bei { $degrees }° oder mehr steht.
words-stations = Stellen, von der Karosserie zum Schloss, und die Leitungen, die dort vorbeiführen:
words-conductors = Leitungen mit Farbe (IEC 60757), mm² und ihren Enden:
words-eyelet = { $eyelet } an { $stud }

# Where a conductor ends, in these tables. The English are the names in commands.
name-body = Karosserie
name-battery-plus = Batterie-Plus
name-fuse-feed = { $fuse } Zuleitung
name-fuse-load = { $fuse } Last

words-parts = Bauteile zwischen ihren eigenen Stiften:
words-part = { $part } ({ $pins }): { $inside }

# What is between a part's pins: { $a } and { $b } are numbers of pins.
inside-lamp = Lampe { $watts } W zwischen { $a } und { $b }
inside-switch = Schalter zwischen { $a } und { $b }
inside-led = LED-Leuchte von { $a } nach { $b }, nur in einer Richtung
inside-diode = Diode, Anode { $a }, Kathode { $b }
inside-resistor = { $ohms } Ω zwischen { $a } und { $b }
inside-screen = { $lines } Linien zu { $ohms } Ω nebeneinander, Schienen an { $a } und { $b }
inside-motor = Motor zwischen { $a } und { $b }
inside-latch-motor = Motor { $feed } nach { $ground }; Schalter für offen { $ajar } nach { $ground }, geschlossen bei offenem Schloss; Drehfallenkontakt { $home } nach { $ground }, geschlossen bei geschlossener Drehfalle
inside-latch-solenoid = Magnet { $feed } nach { $ground }; Schalter für offen { $ajar } nach { $ground }, geschlossen bei offenem Schloss; Drehfallenkontakt { $home } nach { $ground }, geschlossen bei geschlossener Drehfalle
inside-module = Versorgung { $supply }, Masse { $ground }; Eingänge: { $inputs }; Ausgänge: { $outputs }
inside-pin = { $pin } { $title } ({ $what })
input-up = hochgezogen, niedrig unter { $volts } V
input-down = heruntergezogen, hoch über { $volts } V
output-contact = Relaiskontakt von { $feed }, in Ruhe offen, Ableitwiderstand nach Masse
output-high-side = elektronisch, von { $feed }, bis { $amps } A; in Ruhe { $rest }
output-low-side = elektronisch, nach Masse, bis { $amps } A; in Ruhe { $rest }
output-half-bridge = Halbbrücke von { $feed }, bis { $amps } A; in Ruhe { $rest }
output-bleed = Ableitwiderstand nach Masse
output-bias = hochohmig an der Versorgung, um eine fehlende Last zu erkennen
output-braking = nach Masse bremsend
relay-coil = Spule zwischen { $a } und { $b }, zieht an bei { $volts } V; Kontakt { $common }
relay-coil-working = Spule zwischen { $a } und { $b }, zieht an bei { $volts } V; Kontakt { $common } nach { $working }, wenn angezogen
relay-resting = { $relay }, nach { $resting } in Ruhe

## Die Messgeräte

instruments-meter = Multimeter, 6000 Digits. Jede Stellung, was sie am Stromkreis bewirkt und wie weit sie abweichen darf:

# A row: the setting's title is made as wide as it must be.
instruments-row = { $setting } { $about }; { $off }
instruments-volts = Eingang 10 MΩ; eine offene Leitung zeigt die Geisterspannung durch Kriechströme; bis 60 V
instruments-low-z = Eingang 3 kΩ; eine Geisterspannung bricht zusammen, eine Zuleitung bleibt; bis 60 V
instruments-ohms = Quelle 2.6 V, unter 350 µA; einschließlich 0.1 Ω beider Messleitungen; bis 40 MΩ; nur ohne Spannung
instruments-tone = Ohm, mit Ton unter 50 Ω: ein letzter Einzeldraht klingt wie eine ganze Leitung
instruments-diode = Quelle 2.8 V, unter 1.2 mA; Durchlassspannung mit Rot an der Anode, andersherum OL
instruments-amps = Nebenwiderstand 0.03 Ω hinter der 10-A-Sicherung des Multimeters; nur in Reihe: anstelle einer gezogenen Sicherung, von der Zuleitung zur Last

# Lines of about 120 letters, for a terminal.
instruments-note-meter =
    Die Anzeige erneuert sich viermal in der Sekunde und zeigt den Mittelwert dieser Zeit: Was sich ändert, steht einmal
    unterwegs da, dann fest. Gehalten werden der kleinste und der größte Mittelwert einer Zehntelsekunde, bis eine
    Messleitung oder der Schalter bewegt wird. An einem gesteckten Steckverbinder wird rückseitig abgegriffen, und der Stromkreis
    arbeitet wie sonst. An einem getrennten wird von vorn abgegriffen, und was daran hing, hängt nicht mehr daran: Spannung
    ohne Last. Hastig dauert ein Drittel der Zeit und trifft vielleicht die Kammer daneben; Hinsehen zeigt, wo die
    Prüfspitzen sind.
instruments-note-clamp =
    Zange, um eine Leitung an einer Stelle, hinter einer Kammer oder um das Batteriekabel: Gleichstrom bis 60 A, 10 mA je
    Digit, ±(2 % + 3), keine Last am Stromkreis; ihr Nullpunkt wandert um bis zu 30 mA. Plus ist vom ersten Ende einer
    Leitung zum zweiten, wie in der Liste der Leitungen; im Batteriekabel vom Pol weg.
instruments-note-recorder =
    Schreiber, Volt zwischen zwei eigenen Messleitungen (10 MΩ) und Ampere der Zange über der Zeit: Scharf zeichnet er die
    nächste Handlung auf, die das Fahrzeug betätigt oder den Stromkreis schließt oder trennt.

## Der Textplatz. Befehle, und was über einen falsch geschriebenen gesagt wird, sind in jeder Sprache englisch

desk-customer = Der Kunde: „{ $words }“
desk-variation = Variante { $variation } dieses Szenarios.
desk-resumed = Wieder aufgenommen nach { $steps } Schritten, bei { $minutes } Minuten.
desk-handed-in = Dieser Auftrag ist abgegeben.
desk-task =
    Den Fehler finden, reparieren, die Reparatur nachweisen, Bericht schreiben, abgeben. Ein Fehler ist versteckt;
    die Listen nennen alles, was geprüft werden kann. help nennt die Befehle, sheet das Auftragsblatt.

# What an act brought. Two blanks before them are made by the program.
desk-refused = nicht möglich: { $why }
desk-coach = Trainer: { $advice }
desk-heard = gehört: { $what }
desk-seen = gesehen: { $what }
desk-meter = Multimeter: { $reading }
desk-clamp = Zange: { $reading }
desk-recorder = Schreiber: { $reading }
desk-caution = Hinweis: { $caution }
desk-breach = VERSTOSS gegen: { $caution }
desk-nothing = nichts zu sehen oder zu hören
desk-done = erledigt
desk-minutes = [{ $minutes } min]
desk-minutes-and-parts = [{ $minutes } min, Teile { $cost }]
desk-sheet = AUFTRAGSBLATT   { $vehicle }
desk-words = „{ $words }“
desk-clock = { $minutes } Minuten, Teile { $cost }
desk-named = benannt: { $fault } ({ $percent } %)
desk-unfinished = Der Auftrag bleibt unfertig.
desk-thinking = der Trainer denkt nach
desk-no-answer = der Trainer weiß hier keine Antwort: { $why }
desk-sealed = Abgegeben. Das Ergebnis ist versiegelt: Es öffnet, wer die Prüfung gestellt hat.
result-truth = Der Fehler war: { $fault }
result-marks = PUNKTE

# Figures come before it, made as wide as they must be.
result-line = { $marks } von { $most } { $part } { $why }
result-total = { $marks } von 100   Gesamt (Auftrag zu { $percent } % durchgeführt)
debrief-head = NACHBESPRECHUNG
debrief-start = Am Anfang gab es { $possible } Möglichkeiten, { $bits } Bit; der beste Plan erwartete { $minutes } Minuten bis zur nachgewiesenen Reparatur.
debrief-start-bound = Am Anfang gab es { $possible } Möglichkeiten, { $bits } Bit; der beste Plan erwartete { $minutes } Minuten bis zur nachgewiesenen Reparatur (kein Weg braucht weniger als { $bound }).
debrief-steps = Die eigenen Schritte, nach der Uhr

# Heads of columns of figures, in letters of one width: let each stand over its own, as in English.
debrief-columns = Min   erfahren erwartet     offen  verl.
debrief-plan-columns =   Min    Bit   offen
