# Die Texte der Oberfläche auf Deutsch. Übersetzt aus en.ftl; siehe README.md daneben.

## Sprache

# The language's own name, in itself: `English`, `Deutsch`, `Français`.
language-name = Deutsch

## Einstellungen

settings-sound = Ton. Jedes Geräusch steht auch in Worten am unteren Rand.
settings-less-motion = Weniger Bewegung: Die Klappe wird hingestellt und schwingt nicht.
settings-text-size = Schriftgröße
settings-light = Licht
settings-dim = gedämpfter Raum, dunkle Karten
settings-bright = heller Raum, helle Karten
settings-language = Sprache

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
sheet-jobs = Aufträge  (Pos1)
sheet-settings = Optionen  (Ende)
sheet-file = Datei  (Einfg)
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
card-shelf = Aufträge im Regal
card-everything = Alles, nach Namen
card-settings = Einstellungen
card-author = Die Datei des Szenarios
card-help = Tasten und Arbeitsweise

## Punkte, die eine Leitung berührt, und was daran ist

lead-red = rot
lead-black = schwarz
# Marks beside a point: what is on it. Short.
mark-clip = Klemme
mark-recorder = Schreiber
mark-clamp = Zange
# { $what } is one of the marks above, or a lead's colour.
point-has = daran: { $what }
point-take-first = Erst eine Prüfspitze oder Klemme in die Hand nehmen.
point-goes = Was in der Hand ist, kommt dorthin, wo berührt wird.
point-take-red-off = Rote Prüfspitze abnehmen
point-take-black-off = Schwarze Prüfspitze abnehmen
point-bare-metal = Blankes Blech
point-out-of-reach = Nicht erreichbar: { $why }.
# Short names of points, beside leads on the drawing.
short-body = Karosserie
short-battery-plus = Batterie +
short-battery-minus = Batterie −
short-key-plus = Knopfzelle +
short-key-minus = Knopfzelle −
# A fuse's side: F1 feed, F1 load.
short-fuse-feed = { $fuse } Zuleitung
short-fuse-load = { $fuse } Last

## Die Karte eines Steckverbinders

connector-unplug = Trennen
connector-plug = Zusammenstecken
connector-look = Genau ansehen
connector-mated = Zusammengesteckt: rückseitig abgreifen, der Stromkreis arbeitet wie sonst.
connector-open = Getrennt: von vorn abgreifen; was an diesem Steckverbinder hing, belastet nichts mehr.
connector-body-half = Karosserieseite
connector-lid-half = Klappenseite
connector-loom-half = Strangseite
connector-own-pins = Stifte des Bauteils
connector-cavity-title = Kammer { $cavity }:
connector-tug = An der Leitung ziehen
connector-terminal = Neuer Kontakt
# With another cavity: the button beside this list changes two terminals over.
connector-with = mit { $cavity }
connector-swap = Kontakte tauschen
connector-touch-cavity = Eine Kammer mit leerer Hand berühren, um an ihrer Leitung zu ziehen oder den Kontakt zu erneuern.
# Names of cavities for a screen reader and under the pointer.
connector-cavity = Kammer { $cavity }, { $wire }
connector-pin = Stift { $cavity }
connector-empty = Kammer { $cavity }, leer
part-fit = Neu einbauen: { $part } ({ $price }, { $minutes } min)
part-read-memory = Speicher lesen
part-clear-memory = Speicher löschen
part-tap = Daran klopfen
part-claw = Drehfalle mit Werkzeug schließen
part-force = Schloss aufzwingen (20 min)
# Of a heated screen. The number follows.
screen-line = Linie{" "}
# Follows a number: 3 of 8 parts of the way along the line, counted from the busbar that is fed.
screen-place = /{ $sections } ab gespeister Schiene
screen-put = Was in der Hand ist, dorthin
screen-paint = Abschnitt { $section } der Linie { $line } nachziehen
place-warm = Mit Heißluft erwärmen
place-cool = Mit Kältespray kühlen

## Die Karte einer Stelle des Leitungsstrangs, eines Massebolzens, einer Verkleidung

station-flex = Strang hier bewegen
station-tape = Band öffnen und ansehen
station-found = Bei offenem Band, nach { $minutes } min: { $found }
station-conductors = Eine Leitung hier:
station-choose = Eine auswählen, um sie hier zu reparieren oder die Zange darum zu schließen.
station-splice = Verbinden, schrumpfen, zugentlasten (20 min)
station-twist = Verdrillen und umwickeln (5 min)
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
lid-claw = Drehfalle mit Werkzeug schließen
lid-lever = Hebel innen ziehen
lid-force = Schloss durch die Verkleidung aufzwingen (20 min)
lid-look = Hinsehen und hinhören
lid-wet = Heck mit der Sprühflasche nässen
lid-dry = Trockenblasen
lid-wait = { $minutes } min warten

## Die Karte des Innenraums

cabin-switches = Schalter
cabin-press = Drücken: { $part }
cabin-is-on = { $part } ist ein: ausschalten
cabin-is-off = { $part } ist aus: einschalten
cabin-lever = Hebel innen ziehen, über die Rückenlehne
# Opens the card of a panel or seat.
cabin-panel = { $panel } …
cabin-lockout = Einstellung Entriegelungssperre:
cabin-lockout-on = einschalten
cabin-lockout-off = ausschalten
cabin-fuses = Sicherungen: links Zuleitungsseite, rechts Lastseite
cabin-feed-side = { $fuse }, Zuleitungsseite
cabin-load-side = { $fuse }, Lastseite
cabin-rating = { $fuse } { $amps } A
fuse-look = Ansehen
fuse-pull = Ziehen
fuse-put-back = Wieder stecken
fuse-clips = Federn nachbiegen
fuse-fit = Neu: { $amps } A
cabin-open = Öffnen: { $connector }
fuse-new = Neue Sicherungen:
fuse-as-slot = wie der Steckplatz sagt
fuse-amps = { $amps } A

## Unter der Motorhaube, Schlüssel, Werkzeuge

front-eyes = Hier die Augen schützen.
front-glasses-on = Schutzbrille ist auf
front-put-glasses-on = Schutzbrille aufsetzen
front-prove-meter = Multimeter an der Batterie prüfen
front-charge = Batterie laden (40 min)
front-plus = Pluspol
front-minus = Minuspol
key-lock = Verriegeln
key-unlock = Entriegeln
key-release = Klappe öffnen
key-about = Er hat auch einen Bart. Innen liegt die Knopfzelle.
key-new-cell = Neue Knopfzelle ({ $price })
key-new = Neuer Schlüssel, angelernt ({ $price }, 25 min)
key-plus = Pluskontakt der Knopfzelle
key-minus = Minuskontakt der Knopfzelle
tray-about = Hier den Nennstrom wählen; eingesetzt wird am Steckplatz, im Innenraum.
tray-meter-fuse = Neue Sicherung ins Multimeter
tool-take = In die Hand nehmen
tool-first-plus = Die erste Klemme ist Plus.
tool-on = An { $from } und { $to }.
tool-blown = Die Sicherung ist durchgebrannt; beim nächsten Anklemmen kommt eine neue hinein.
tool-off = Abnehmen
meter-let-go = Kleinst- und Größtwert loslassen
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
customer-ask = Fragen (je eine Minute)
findings-none = Noch nichts.
writing-about = Drei Zeilen. Die Messwerte angeben, die Ursache und Reparatur belegen.
writing-write = Aufschreiben
writing-count = { $count } von 3 Zeilen geschrieben.
hand-in-about = Mit der Abgabe endet der Auftrag: Der Fehler wird gezeigt, die Punkte werden vergeben.
hand-in-about-paper = Mit der Abgabe endet der Auftrag und sein Protokoll wird geschlossen. Das Ergebnis gibt bekannt, wer die Prüfung gestellt hat.
hand-in-named = Benannt: { $fault } ({ $percent } %)
hand-in-unnamed = Es ist kein Fehler benannt.
hand-in-lines = Bericht: { $count } von 3 Zeilen.
hand-in-left = Nicht zurückgestellt: { $what }.
hand-in-agreed = Der Kunde ist mit { $units } einverstanden.
hand-in-untold = Dem Kunden ist nicht gesagt worden, was es kosten wird.
hand-in-repaired = Als repariert abgeben
hand-in-refer = Nicht zu bestätigen: mit diesen Befunden weitergeben

## Tasten und Arbeitsweise

help-touch = Berühren, woran gearbeitet werden soll: Ringe zeigen, was jetzt erreichbar ist.
help-probe = Eine Prüfspitze an den Buchsen des Multimeters nehmen, dann eine Kammer, eine Sicherungsseite, einen Bolzen oder einen Pol berühren.
help-tools = Die Werkzeuge liegen auf dem Wagen; jedes hat zwei Klemmen und bleibt, wo es angebracht wird.
help-recorder = Stromzange und Schreiber hängen an der Wand; scharf geschaltet zeichnet der Schreiber die nächste Handlung auf.
help-lid = Leitungen bleiben dran, wenn sich die Klappe bewegt: das Multimeter von außen beobachten.
help-minutes = Jede Handlung kostet Minuten, Teile kosten Geld. Ergebnisse stehen unten und unter Befunde.
help-tab = Tab, Umschalt+Tab: von einer Stelle zur nächsten.  Eingabe oder Leertaste: berühren.  Bild auf, Bild ab: was länger ist als seine Karte.
help-esc = Esc: ablegen, was in der Hand ist, oder die Karte schließen.
help-keys-1 = F1 Tasten  ·  F2 Kunde  ·  F3 Befunde  ·  F4 Schaltplan
help-keys-2 = F5 Fehler benennen  ·  F6 Bericht  ·  F7 abgeben
help-keys-3 = F8 Klappe  ·  F9 Schlüssel  ·  F10 alles nach Namen
help-keys-4 = F11 Verdacht  ·  F12 Trainer  ·  Pos1 Aufträge im Regal  ·  Ende Einstellungen

## Ein unfertiger Auftrag

left-title = Ein Auftrag ist unfertig geblieben
left-kept = Er liegt so da, wie er verlassen wurde, in { $path }.
left-go-on = Damit weitermachen
left-another = Einen anderen beginnen

## Was eine Handlung brachte, am unteren Rand

caption-refused = Nicht möglich: { $why }.
caption-heard = Gehört: { $what }
caption-seen = Gesehen: { $what }
caption-others-dark = Alle anderen Leuchten sind dunkel.
caption-meter = Multimeter: { $reading }
caption-clamp = Zange: { $reading }
caption-recorder = Schreiber: { $reading }
caption-more = und { $count } weitere, auf dem Blatt unter Befunde
caption-breach = Verstoß: { $caution }
caption-in-hand = In der Hand: { $what }. Kammer, Sicherungsseite, Bolzen oder Pol berühren; Esc legt es ab.
hand-red-probe = rote Prüfspitze
hand-black-probe = schwarze Prüfspitze
hand-clamp = Stromzange
hand-recorder-plus = Schreiber, Plusleitung
hand-recorder-minus = Schreiber, Minusleitung (Plus ist an { $point })
hand-first-clip = { $tool }, erste Klemme
hand-second-clip = { $tool }, zweite Klemme (die erste ist an { $point })
trouble-another = Anderen Auftrag beginnen
trouble-understood = Verstanden
trouble-time-up = Die Zeit ist um: Es kann nur noch abgegeben werden.
trouble-no-answer = Der Trainer weiß hier keine Antwort: { $why }.
trouble-not-worked-out = was die Schritte wert sind, lässt sich nicht berechnen
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
spot-key-release = Schlüssel: Klappe öffnen
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
spot-fuse-tray = Ersatzsicherungen, auch für das Multimeter
# On the meter's display, small.
display-tone = Ton
# On the meter's display while it holds the least and the greatest: before and after there are any.
display-holds = min max
display-held = min { $least }  max { $greatest }

## Punkte und Nachbesprechung

marks-marks = Punkte
marks-steps = Schritt für Schritt
marks-another = Noch ein Auftrag
marks-others = Andere Aufträge
marks-car = Fahrzeug noch einmal ansehen
marks-truth = Der Fehler war: { $fault }
marks-named = Benannt wurde: { $fault } ({ $percent } %)
marks-of = { $marks } von { $most }
marks-total = Gesamt { $marks } von 100
marks-handed-in = Abgegeben
marks-closed = Das Protokoll ist geschlossen und versiegelt. Das Ergebnis gibt bekannt, wer die Prüfung gestellt hat.
marks-close-window = Das Fenster schließen; der nächste Auftrag der Prüfung beginnt, wenn sie wieder aufgenommen wird.
marks-weighing = Jeder Schritt wird mit dem verglichen, was sonst möglich gewesen wäre.
debrief-curve = Was noch möglich war, in Bit, über den Minuten
debrief-legend = erfahren: Bit, von den zu erwartenden; eine Überraschung kann mehr sagen oder unsicherer machen.  offen: Ursachen, in Gruppen mit derselben Reparatur.  verloren: Minuten
debrief-clock = Uhr
debrief-told = erfahren
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

coach-rungs = Jede Stufe sagt mehr als die vorige. Eine Stufe kostet ihre Punkte einmal, bis etwas getan worden ist.
coach-thinking = Der Trainer denkt nach.
coach-since = Seitdem ist etwas getan worden: Es gilt vielleicht nicht mehr.

## Der Schreiber

recorder-take = Leitungen in die Hand nehmen
recorder-first-plus = Die erste ist Plus.
recorder-on = Plus an { $plus }, Minus an { $minus }.
recorder-off = Leitungen abnehmen
recorder-arm = Scharf schalten
recorder-disarm = Entschärfen
recorder-armed = Scharf: Er zeichnet die nächste Handlung auf, die das Fahrzeug betätigt oder den Stromkreis schließt oder trennt.
recorder-about = Er zeichnet Volt mit seinen Leitungen auf und Ampere mit der Zange.
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
naming-choose = auswählen
# Labels before lists: what is faulty, which one, in what way, where, how sure.
naming-what = Was
naming-which = Welches
naming-way = Wie
naming-where = Wo
naming-sure = Wie sicher
naming-name = Benennen
naming-so-far = Bisher benannt: { $fault } ({ $percent } %). Die letzte Benennung zählt.
estimate-about = Der Kunde will wissen, was es kostet, bevor etwas repariert wird. Bis jetzt sind es { $so_far }; eine Stunde kostet { $hour }, Teile kommen dazu.
estimate-in-all = Insgesamt
estimate-tell = Dem Kunden sagen
estimate-agreed = Der Kunde ist mit { $units } einverstanden. Das letzte Wort zählt.

## Die Verdachtsliste

suspicions-about = Nur zur eigenen Übersicht: Sie kostet keine Zeit und bringt keine Punkte. Nach der Abgabe zeigt sich, wie gut abgewogen wurde.
suspicions-suspect = Mit { $percent } % verdächtigen
suspicions-none = Noch steht nichts auf der Liste.
suspicions-strike = Streichen
# For a screen reader.
suspicions-strike-this = Streichen: { $fault }

## Das Regal

shelf-kept = Der laufende Auftrag bleibt, wie er ist: Der nächste Start bietet an, damit weiterzumachen.
shelf-practise = Als Nächstes üben
shelf-begin = Beginnen
shelf-begin-anew = Neu beginnen
shelf-first = Der erste Auftrag, Schritt für Schritt
shelf-all = Alle Aufträge
# For a screen reader: the button's words and the scenario's title.
shelf-begin-this = { $begin }: { $title }
# The vehicle and the circuit.
shelf-about = { $vehicle }; { $circuits }
shelf-progress = Bisheriger Fortschritt
shelf-none = Auf diesem Rechner ist noch kein Auftrag abgegeben worden.
shelf-marks = Punkte von 100, Auftrag für Auftrag
shelf-plot = Punkte aller Aufträge: { $marks }

## Der Schaltplan

diagram-image = Schaltplan
diagram-drawn = Gezeichnet
diagram-in-words = In Worten
diagram-nearer = Näher
diagram-further = Ferner
diagram-whole = Ganzes Blatt
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
diagram-size = { $conductor }, { $size } mm²
diagram-at-station = { $conductor } bei: { $station }

## Der erste Auftrag, Schritt für Schritt

first-title = Der erste Auftrag hier
first-about = Die Klappe eines Steilhecks öffnet nicht. Die Ursache finden, reparieren und die Reparatur nachweisen; ein Zettel nennt jeden Schritt. Es dauert ein paar Minuten. Es ist ein Auftrag wie jeder andere und wird auch so bewertet.
first-show = Zeigen
first-know = Nicht nötig
first-step = Schritt { $step } von { $all }
first-no-more = Keine Zettel mehr
first-step-1 = Links hängt das Auftragsblatt. Die Worte des Kunden sind jetzt offen: Sie lesen, darunter auch die Sicherheitshinweise, und diese bestätigen. Dann die Karte mit Esc schließen.
first-step-2 = Die Beanstandung selbst nachvollziehen. Den Schlüssel auf dem Wagen rechts berühren oder F9 drücken, dann seine Taste zum Öffnen drücken. Was zu sehen und zu hören ist, steht in Worten am unteren Rand.
first-step-3 = Das Fahrzeug piept, also arbeiten Schlüssel und Steuergerät; aber das Schloss bewegt sich nicht. Was speist das Schloss? Den Schaltplan mit F4 öffnen, Sicherung F1 suchen, dann den Schaltplan schließen.
first-step-4 = Jetzt messen. Den Drehschalter des Multimeters bei V berühren (rechts).
first-step-5 = Die schwarze Prüfspitze kommt an den Minuspol der Batterie. Die Batterie auf dem Bild an der Wand berühren und dort die Schutzbrille aufsetzen: Eine Batterie kann platzen. Dann die schwarze Prüfspitze an ihrer Buchse am Multimeter nehmen und Minus berühren.
first-step-6 = Die Sicherungen sind im Innenraum: Ihn auf dem Bild an der Wand berühren. Die rote Prüfspitze nehmen und F1 auf der Zuleitungsseite berühren, der linken. Die Karte bleibt offen, während die Prüfspitze geholt wird.
first-step-7 = Die Batteriespannung kommt an der Sicherung an. Die rote Prüfspitze wieder nehmen und die Lastseite von F1 berühren, die rechte.
first-step-8 = Spannung vor der Sicherung, keine dahinter: Die Sicherung ist unterbrochen. Das ist der Nachweis, in drei Minuten. Den Fehler mit F5 benennen: Sicherung F1, durchgebrannt. Dort auch sagen, was es kosten wird.
first-step-9 = Wieder im Innenraum F1 ziehen und eine neue mit gleichem Nennstrom einsetzen. Eine stärkere wäre Brandgefahr.
first-step-10 = Die Reparatur nachweisen: Prüfspitzen abnehmen, Klappe zu lassen und am Schlüssel noch einmal auf Öffnen drücken.
first-step-11 = So endet jeder Auftrag: Klappe wieder schließen (F8), Beanstandung, Ursache und Abhilfe aufschreiben (F6) und abgeben (F7). Dann ist zu sehen, was jeder Schritt wert war.

## Das Blatt der Lehrkraft

author-slip = In der Datei ist ein Fehler: den zuerst beheben.
author-not-saved = { $path } wurde nicht gespeichert: { $why }
author-save = Datei speichern
author-undo = Hier Geändertes zurücknehmen
author-comments = Kommentare und Form bleiben, wie sie sind.
author-broken = So wie die Datei jetzt gespeichert ist, kann sie nicht gespielt werden. Zu sehen ist ihr Stand davor.
author-parted = Sie wurde anderswo gespeichert, während hier etwas geändert war. Speichern überschreibt das; Zurücknehmen übernimmt es.
author-trying = Sie ist in Ordnung. Die Proben aller Fehler werden gespielt.
author-sound = Sie ist in Ordnung, und jeder Fehler führt zur Beanstandung. Was anderswo gespeichert wird, erscheint sofort.
author-found = Sie kann gespielt werden, aber die Proben fanden:
author-pool = Die möglichen Fehler
author-here = hier
author-try = Zeigen
# For a screen reader: buttons of a row, with the fault they are about.
author-try-this = Zeigen: { $fault }
author-weight-of = Gewicht von: { $fault }
author-take-out = Entfernen
author-take-out-this = Entfernen: { $fault }
author-one-more = Ein weiterer Eintrag der Liste
author-add = Hinzufügen
author-title = Titel
author-customer = Was der Kunde sagt
author-par = Richtzeit
# After a number.
author-min = {" "}min
author-par-name = Richtzeit in Minuten
author-yard = Hof
author-celsius = Temperatur im Hof
author-locked = verriegelt
author-wet = nass
author-coach = der Trainer darf gefragt werden
author-kit = Erlaubt:
author-kit-meter = Multimeter
author-kit-lamp = Prüflampe
author-kit-bridge = Brücke
author-kit-bench = Prüfbatterie
author-kit-clamp = Zange
author-kit-recorder = Schreiber
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
point-body = blankes Karosserieblech
point-cavity = { $connector }, Kammer { $cavity }
