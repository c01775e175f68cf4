<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="de">
    <context>
        <name>pommel::ui::BlankStrip</name>
        <message>
            <source>the blank and its waste</source>
            <translation>der Rohling und sein Abfall</translation>
        </message>
        <message>
            <source>blank: …</source>
            <translation>Rohling: …</translation>
        </message>
        <message>
            <source>blank %1 long, %2 %3</source>
            <translation>Rohling %1 lang, %2 %3</translation>
        </message>
        <message>
            <source>round</source>
            <translation>rund</translation>
        </message>
        <message>
            <source>square</source>
            <translation>im Quadrat</translation>
        </message>
        <message>
            <source>%1 %2</source>
            <translation>%1 %2</translation>
        </message>
        <message>
            <source>waste at the head</source>
            <translation>Abfall am Kopf</translation>
        </message>
        <message>
            <source>waste at the foot</source>
            <translation>Abfall am Fuß</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::CheckStrip</name>
        <message>
            <source>cut check: the surface unrolled</source>
            <translation>Schnittprüfung: die Oberfläche abgerollt</translation>
        </message>
        <message>
            <source>cut check, the surface unrolled: …</source>
            <translation>Schnittprüfung, die Oberfläche abgerollt: …</translation>
        </message>
        <message>
            <source>cut check, the surface unrolled: up is once round, face A at the foot</source>
            <translation>Schnittprüfung, die Oberfläche abgerollt: nach oben einmal herum, Fläche A unten</translation>
        </message>
        <message>
            <source>below the skin %1</source>
            <translation>unter der Haut %1</translation>
        </message>
        <message>
            <source>%1 of wood left</source>
            <translation>%1 Holz stehen geblieben</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::DesignChooser</name>
        <message>
            <source>New order from a design</source>
            <translation>Neuer Auftrag nach einem Entwurf</translation>
        </message>
        <message>
            <source>find a design by its name, period or piece: vase, Shaker, bed</source>
            <translation>Entwurf nach Name, Zeit oder Stück finden: vase, Shaker, bed</translation>
        </message>
        <message>
            <source>find a design</source>
            <translation>Entwurf finden</translation>
        </message>
        <message>
            <source>designs of the house</source>
            <translation>Entwürfe des Hauses</translation>
        </message>
        <message>
            <source>New order</source>
            <translation>Neuer Auftrag</translation>
        </message>
        <message>
            <source>what is ordered</source>
            <translation>was bestellt ist</translation>
        </message>
        <message>
            <source>number</source>
            <translation>Nummer</translation>
        </message>
        <message>
            <source>client</source>
            <translation>Kunde</translation>
        </message>
        <message>
            <source>Begin the order</source>
            <translation>Auftrag beginnen</translation>
        </message>
        <message>
        <source>and by what it must be: table_height = 30 in; thinnest_diameter &gt;= 28 mm</source>
        <translation>und danach, was er sein muss: table_height = 750 mm; thinnest_diameter &gt;= 28 mm</translation>
    </message>
    <message>
        <source>find a design by its measures</source>
        <translation>einen Entwurf nach Maßen finden</translation>
    </message>
    <message>
        <source>%1 of %2 designs would do.</source>
        <translation>%1 von %2 Entwürfen kommen in Frage.</translation>
    </message>
    <message>
        <source>would not do: %1</source>
        <translation>käme nicht in Frage: %1</translation>
    </message>
    <message>
        <source>trying the designs …</source>
        <translation>die Entwürfe werden probiert …</translation>
    </message>
    <message>
        <source>Another design for this order</source>
        <translation>Ein anderer Entwurf für diesen Auftrag</translation>
    </message>
    <message>
        <source>Take this design</source>
        <translation>Diesen Entwurf nehmen</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::Desk</name>
        <message>
            <source>Not opened</source>
            <translation>Nicht geöffnet</translation>
        </message>
        <message>
            <source>Open an order</source>
            <translation>Auftrag öffnen</translation>
        </message>
        <message>
            <source>orders (*.yaml)</source>
            <translation>Aufträge (*.yaml)</translation>
        </message>
        <message>
            <source>Where the new order is kept</source>
            <translation>Wo der neue Auftrag liegt</translation>
        </message>
        <message>
            <source>No new order</source>
            <translation>Kein neuer Auftrag</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::Elevation</name>
        <message>
            <source>the piece at working scale</source>
            <translation>das Stück im Arbeitsmaßstab</translation>
        </message>
        <message>
            <source>⌀ %1</source>
            <translation>⌀ %1</translation>
        </message>
        <message>
            <source>%1 from the head: outside the piece</source>
            <translation>%1 vom Kopf: außerhalb des Stücks</translation>
        </message>
        <message>
            <source>□ %1 across</source>
            <translation>□ %1 breit</translation>
        </message>
        <message>
            <source>%1 from the head, %2 from the foot  ·  %3  ·  %4</source>
            <translation>%1 vom Kopf, %2 vom Fuß  ·  %3  ·  %4</translation>
        </message>
        <message>
        <source>%1 long</source>
        <translation>%1 lang</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::MeasureGrid</name>
        <message>
            <source>measures and what follows</source>
            <translation>Maße und was daraus folgt</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::OrderBook</name>
        <message>
            <source>another size</source>
            <translation>noch eine Größe</translation>
        </message>
        <message>
            <source>without %1</source>
            <translation>ohne %1</translation>
        </message>
        <message>
        <source>note on %1</source>
        <translation>Notiz zu %1</translation>
    </message>
    <message>
        <source>changing over to the saved revision</source>
        <translation>Wechsel zur gesicherten Fassung</translation>
    </message>
    <message>
        <source>changing over to '%1'</source>
        <translation>Wechsel zu „%1“</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::OrderWindow</name>
        <message>
            <source>making the job folder: %1 …</source>
            <translation>Auftragsmappe entsteht: %1 …</translation>
        </message>
        <message>
            <source>the job folder is made</source>
            <translation>die Auftragsmappe ist fertig</translation>
        </message>
        <message>
            <source>stopped: no folder was made</source>
            <translation>angehalten: keine Mappe entstanden</translation>
        </message>
        <message>
            <source>no folder was made</source>
            <translation>keine Mappe entstanden</translation>
        </message>
        <message>
            <source>No job folder</source>
            <translation>Keine Auftragsmappe</translation>
        </message>
        <message>
            <source>%1, order %2[*] — Pommel</source>
            <translation>%1, Auftrag %2[*] — Pommel</translation>
        </message>
        <message>
            <source>find a measure by its name or what it is</source>
            <translation>Maß nach Name oder Bedeutung finden</translation>
        </message>
        <message>
            <source>find a measure</source>
            <translation>Maß finden</translation>
        </message>
        <message>
            <source>which piece is shown</source>
            <translation>welches Stück gezeigt wird</translation>
        </message>
        <message>
            <source>what is different from the catalogue, and the cut check</source>
            <translation>was anders ist als im Katalog, und die Schnittprüfung</translation>
        </message>
        <message>
            <source>Stop</source>
            <translation>Anhalten</translation>
        </message>
        <message>
            <source>The last session ended with changes to this order that were not saved.</source>
            <translation>Die letzte Sitzung endete mit Änderungen an diesem Auftrag, die nicht gesichert waren.</translation>
        </message>
        <message>
            <source>Unsaved changes of the last session cannot be read. What is left of them is kept as %1</source>
            <translation>Ungesicherte Änderungen der letzten Sitzung sind nicht lesbar. Was davon übrig ist, liegt unter %1</translation>
        </message>
        <message>
            <source>This order is open in another session, so no copy of unsaved changes is kept here: %1</source>
            <translation>Dieser Auftrag ist in einer anderen Sitzung geöffnet, deshalb wird hier keine Kopie ungesicherter Änderungen gehalten: %1</translation>
        </message>
        <message>
            <source>Close</source>
            <translation>Schließen</translation>
        </message>
        <message>
            <source>Take them</source>
            <translation>Übernehmen</translation>
        </message>
        <message>
            <source>Leave them</source>
            <translation>Liegen lassen</translation>
        </message>
        <message>
            <source>1  Pick a design</source>
            <translation>1  Entwurf wählen</translation>
        </message>
        <message>
            <source>2  Type the size you want</source>
            <translation>2  Gewünschtes Maß eintippen</translation>
        </message>
        <message>
            <source>3  Read what follows</source>
            <translation>3  Lesen, was folgt</translation>
        </message>
        <message>
            <source>I know the way</source>
            <translation>Ich kenne den Weg</translation>
        </message>
        <message>
            <source>&amp;Order</source>
            <translation>&amp;Auftrag</translation>
        </message>
        <message>
            <source>&amp;New from a design …</source>
            <translation>&amp;Neu nach einem Entwurf …</translation>
        </message>
        <message>
            <source>&amp;Open …</source>
            <translation>Ö&amp;ffnen …</translation>
        </message>
        <message>
            <source>Open a&amp;gain</source>
            <translation>&amp;Wieder öffnen</translation>
        </message>
        <message>
            <source>&amp;Save</source>
            <translation>&amp;Sichern</translation>
        </message>
        <message>
            <source>Save &amp;under another name …</source>
            <translation>Sichern &amp;unter anderem Namen …</translation>
        </message>
        <message>
            <source>Make the &amp;job folder …</source>
            <translation>Auftrags&amp;mappe machen …</translation>
        </message>
        <message>
            <source>&amp;Close</source>
            <translation>S&amp;chließen</translation>
        </message>
        <message>
            <source>&amp;Measures</source>
            <translation>&amp;Maße</translation>
        </message>
        <message>
            <source>&amp;Undo</source>
            <translation>&amp;Rückgängig</translation>
        </message>
        <message>
            <source>&amp;Redo</source>
            <translation>&amp;Wiederholen</translation>
        </message>
        <message>
            <source>&amp;Copy	Ctrl+C</source>
            <translation>&amp;Kopieren	Ctrl+C</translation>
        </message>
        <message>
            <source>&amp;Paste	Ctrl+V</source>
            <translation>&amp;Einfügen	Ctrl+V</translation>
        </message>
        <message>
            <source>Take the catalogue's again	Del</source>
            <translation>Wieder das Maß des Katalogs	Del</translation>
        </message>
        <message>
            <source>Carry &amp;across all sizes</source>
            <translation>In &amp;alle Größen übertragen</translation>
        </message>
        <message>
            <source>Try &amp;another size beside it</source>
            <translation>&amp;Noch eine Größe daneben versuchen</translation>
        </message>
        <message>
            <source>&amp;Drop the size tried</source>
            <translation>Versuchte Größe &amp;weglassen</translation>
        </message>
        <message>
            <source>Find the measure that &amp;gives …</source>
            <translation>Das Maß finden, &amp;das ergibt …</translation>
        </message>
        <message>
            <source>&amp;Find</source>
            <translation>&amp;Suchen</translation>
        </message>
        <message>
            <source>&amp;Show</source>
            <translation>An&amp;sicht</translation>
        </message>
        <message>
            <source>&amp;Millimetres</source>
            <translation>&amp;Millimeter</translation>
        </message>
        <message>
            <source>&amp;Inches</source>
            <translation>&amp;Zoll</translation>
        </message>
        <message>
            <source>Feet and i&amp;nches</source>
            <translation>&amp;Fuß und Zoll</translation>
        </message>
        <message>
            <source>&amp;Radius over the length</source>
            <translation>&amp;Radius über der Länge</translation>
        </message>
        <message>
            <source>&amp;Blank and waste</source>
            <translation>Roh&amp;ling und Abfall</translation>
        </message>
        <message>
            <source>&amp;Cut check, unrolled</source>
            <translation>S&amp;chnittprüfung, abgerollt</translation>
        </message>
        <message>
            <source>&amp;Lengths of the elements</source>
            <translation>Län&amp;gen der Elemente</translation>
        </message>
        <message>
            <source>The &amp;program, line by line</source>
            <translation>Das &amp;Programm, Zeile für Zeile</translation>
        </message>
        <message>
            <source>The &amp;whole piece</source>
            <translation>Das &amp;ganze Stück</translation>
        </message>
        <message>
            <source>&amp;Help</source>
            <translation>&amp;Hilfe</translation>
        </message>
        <message>
            <source>How to &amp;begin</source>
            <translation>Wie man &amp;beginnt</translation>
        </message>
        <message>
            <source>How to begin</source>
            <translation>Wie man beginnt</translation>
        </message>
        <message>
            <source>1. Pick a design: Order, New from a design.
2. Type the height you want over the catalogue's, in the column 'this order'. Write it as you do at the bench: 31 1/4 in, 2' 7", 790 mm, or a formula: = table_height - 3/4 in.
3. Read what follows: the piece above, the frame beside it, blank, time and price at the foot of the column.

When all is well, Order, Make the job folder writes the programs that have been checked, with everything that goes with them.</source>
            <translation>1. Entwurf wählen: Auftrag, Neu nach einem Entwurf.
2. Die gewünschte Höhe über die des Katalogs tippen, in der Spalte „dieser Auftrag“. Schreib sie wie an der Werkbank: 31 1/4 in, 2' 7", 790 mm, oder als Formel: = table_height - 3/4 in.
3. Lesen, was folgt: oben das Stück, daneben das Möbel, am Fuß der Spalte Rohling, Zeit und Preis.

Ist alles recht, schreibt Auftrag, Auftragsmappe machen die geprüften Programme mit allem, was dazugehört.</translation>
        </message>
        <message>
            <source>&amp;Words of the trade</source>
            <translation>&amp;Wörter des Handwerks</translation>
        </message>
        <message>
            <source>this order</source>
            <translation>dieser Auftrag</translation>
        </message>
        <message>
            <source>'%1' has fixed sizes: no measure stands behind it</source>
            <translation>„%1“ hat feste Größen: kein Maß steht dahinter</translation>
        </message>
        <message>
            <source>%1 drawn</source>
            <translation>%1 gezogen</translation>
        </message>
        <message>
            <source>working out what follows …</source>
            <translation>es wird ausgerechnet, was folgt …</translation>
        </message>
        <message>
            <source>Type another size over one of this order's; an empty cell takes the catalogue's again.</source>
            <translation>Tippe ein anderes Maß über eines dieses Auftrags; eine leere Zelle nimmt wieder das des Katalogs.</translation>
        </message>
        <message>
            <source>Cut check</source>
            <translation>Schnittprüfung</translation>
        </message>
        <message>
            <source>Different from the catalogue</source>
            <translation>Anders als im Katalog</translation>
        </message>
        <message>
            <source>  nothing</source>
            <translation>  nichts</translation>
        </message>
        <message>
            <source>  …</source>
            <translation>  …</translation>
        </message>
        <message>
            <source>  nothing to check</source>
            <translation>  nichts zu prüfen</translation>
        </message>
        <message>
            <source>%1: no program. %2</source>
            <translation>%1: kein Programm. %2</translation>
        </message>
        <message>
            <source>%1: the program's own text was cut in simulation and is sound; deepest below the skin %2 mm, most left in reach %3 mm, %4 places for hand work</source>
            <translation>%1: der Text des Programms wurde in der Simulation geschnitten und ist in Ordnung; tiefstens %2 mm unter der Haut, höchstens %3 mm in Reichweite stehen geblieben, %4 Stellen für Handarbeit</translation>
        </message>
        <message>
            <source>✗ %1, line %2, %3: %4</source>
            <translation>✗ %1, Zeile %2, %3: %4</translation>
        </message>
        <message>
            <source>Not saved</source>
            <translation>Nicht gesichert</translation>
        </message>
        <message>
            <source>saved as %1</source>
            <translation>gesichert als %1</translation>
        </message>
        <message>
            <source>Save the order</source>
            <translation>Auftrag sichern</translation>
        </message>
        <message>
            <source>orders (*.yaml)</source>
            <translation>Aufträge (*.yaml)</translation>
        </message>
        <message>
            <source>no copy of the unsaved changes could be kept: %1</source>
            <translation>von den ungesicherten Änderungen konnte keine Abschrift behalten werden: %1</translation>
        </message>
        <message>
            <source>changes of the last session</source>
            <translation>Änderungen der letzten Sitzung</translation>
        </message>
        <message>
            <source>Make the job folder</source>
            <translation>Auftragsmappe machen</translation>
        </message>
        <message>
            <source>Replace the job folder?</source>
            <translation>Auftragsmappe ersetzen?</translation>
        </message>
        <message>
            <source>'%1' is there already. Shall the new job folder take its place?</source>
            <translation>„%1“ gibt es schon. Soll die neue Mappe an ihre Stelle treten?</translation>
        </message>
        <message>
            <source>making the job folder …</source>
            <translation>Auftragsmappe entsteht …</translation>
        </message>
        <message>
            <source>Save the order?</source>
            <translation>Auftrag sichern?</translation>
        </message>
        <message>
            <source>The order has changes that are not saved.</source>
            <translation>Der Auftrag hat Änderungen, die nicht gesichert sind.</translation>
        </message>
        <message>
        <source>The &amp;solid, to be turned</source>
        <translation>Der &amp;Körper, zum Drehen</translation>
    </message>
    <message>
        <source>the design is in the catalog, and the order stands on it; save the order, too</source>
        <translation>der Entwurf ist im Katalog, und der Auftrag steht auf ihm; nun auch den Auftrag sichern</translation>
    </message>
    <message>
        <source>Save the design first?</source>
        <translation>Zuerst den Entwurf sichern?</translation>
    </message>
    <message>
        <source>Not taken</source>
        <translation>Nicht übernommen</translation>
    </message>
    <message>
        <source>Save as a new &amp;design or revision …</source>
        <translation>Als neuen &amp;Entwurf oder Fassung sichern …</translation>
    </message>
    <message>
        <source>The order &amp;itself: client, machine, cutters …</source>
        <translation>Der Auftrag &amp;selbst: Kunde, Maschine, Fräser …</translation>
    </message>
    <message>
        <source>Put the hairline on an element of the piece: point at it, or use the arrows.</source>
        <translation>Die Haarlinie auf ein Element des Stücks stellen: darauf zeigen, oder die Pfeiltasten.</translation>
    </message>
    <message>
        <source>This piece is one section of a divided turning; its outline is changed in the design's file.</source>
        <translation>Dieses Stück ist ein Abschnitt einer geteilten Drechselei; sein Umriss wird in der Datei des Entwurfs geändert.</translation>
    </message>
    <message>
        <source>The &amp;elements, to add, move and take out</source>
        <translation>Die &amp;Elemente, zum Zufügen, Schieben und Herausnehmen</translation>
    </message>
    <message>
        <source>The &amp;wood under the cutter</source>
        <translation>Das &amp;Holz unter dem Fräser</translation>
    </message>
    <message>
        <source>%1, left hand</source>
        <translation>%1, links</translation>
    </message>
    <message>
        <source>%1, right hand</source>
        <translation>%1, rechts</translation>
    </message>
    <message>
        <source>'%1' follows its formula %2. It would have to be %3.</source>
        <translation>„%1“ folgt der Formel %2. Es müsste %3 sein.</translation>
    </message>
    <message>
        <source>'%1' is %2 now; the size here is %3</source>
        <translation>„%1“ ist jetzt %2; die Größe hier ist %3</translation>
    </message>
    <message>
        <source>Set it in this size</source>
        <translation>In dieser Größe setzen</translation>
    </message>
    <message>
        <source>Leave the formula</source>
        <translation>Die Formel lassen</translation>
    </message>
    <message>
        <source>Joints of the &amp;mirror image</source>
        <translation>Verbindungen des &amp;Spiegelbilds</translation>
    </message>
    <message>
        <source>My m&amp;achine …</source>
        <translation>Meine M&amp;aschine …</translation>
    </message>
    <message>
        <source>My &amp;rates …</source>
        <translation>Meine Sä&amp;tze …</translation>
    </message>
    <message>
        <source>4  My machine</source>
        <translation>4  Meine Maschine</translation>
    </message>
    <message>
        <source>5  My rates</source>
        <translation>5  Meine Sätze</translation>
    </message>
    <message>
        <source>The shop was not read again</source>
        <translation>Die Werkstatt wurde nicht neu gelesen</translation>
    </message>
        <message>
            <source>Match an existing &amp;turning …</source>
            <translation>Ein vorhandenes Drehs&amp;tück nachbilden …</translation>
        </message>
        <message>
            <source>Show them</source>
            <translation>Zeigen</translation>
        </message>
        <message>
            <source>Later</source>
            <translation>Später</translation>
        </message>
        <message>
            <source>The last session ended with readings of a turning that were not saved.</source>
            <translation>Die letzte Sitzung endete mit Messungen eines Drehstücks, die nicht gesichert waren.</translation>
        </message>
    <message>
        <source>The design as it is shown is not in the catalog, and an order has none of its own. So the design is saved first: as a new one, or as the next revision.</source>
        <translation>Der Entwurf, wie er hier steht, ist nicht im Katalog, und ein Auftrag hat keinen eigenen. Darum wird er zuerst gesichert: als neuer oder als nächste Fassung.</translation>
    </message>
    <message>
        <source>This step cannot be taken</source>
        <translation>Dieser Schritt ist nicht möglich</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::Overview</name>
        <message>
            <source>the whole piece, the catalogued one above it</source>
            <translation>das ganze Stück, darüber das aus dem Katalog</translation>
        </message>
        <message>
            <source>catalogue</source>
            <translation>Katalog</translation>
        </message>
        <message>
            <source>has no such piece</source>
            <translation>hat kein solches Stück</translation>
        </message>
        <message>
            <source>the measures make no piece, see below</source>
            <translation>die Maße ergeben kein Stück, siehe unten</translation>
        </message>
        <message>
            <source>as it was before the last change</source>
            <translation>wie es vor der letzten Änderung war</translation>
        </message>
        <message>
            <source>this order</source>
            <translation>dieser Auftrag</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::ProgramView</name>
        <message>
            <source>passes</source>
            <translation>Durchgänge</translation>
        </message>
        <message>
            <source>pass</source>
            <translation>Durchgang</translation>
        </message>
        <message>
            <source>cutter</source>
            <translation>Fräser</translation>
        </message>
        <message>
            <source>from line</source>
            <translation>ab Zeile</translation>
        </message>
        <message>
            <source>minutes</source>
            <translation>Minuten</translation>
        </message>
        <message>
            <source>the program's text</source>
            <translation>der Text des Programms</translation>
        </message>
        <message>
            <source>&amp;Next line at the hairline</source>
            <translation>&amp;Nächste Zeile an der Haarlinie</translation>
        </message>
        <message>
            <source>the program of the %1</source>
            <translation>das Programm: %1</translation>
        </message>
        <message>
            <source>There is no program yet: it is still worked out, or the measures make no piece.</source>
            <translation>Es gibt noch kein Programm: es wird noch gerechnet, oder die Maße ergeben kein Stück.</translation>
        </message>
        <message>
            <source>The cut check found this text sound.</source>
            <translation>Die Schnittprüfung fand diesen Text in Ordnung.</translation>
        </message>
        <message>
            <source>✗ The cut check found faults; this program is not given out:</source>
            <translation>✗ Die Schnittprüfung fand Fehler; dieses Programm wird nicht herausgegeben:</translation>
        </message>
        <message>
            <source>line %1, %2: %3</source>
            <translation>Zeile %1, %2: %3</translation>
        </message>
        <message>
            <source>No line passes the hairline.</source>
            <translation>Keine Zeile geht über die Haarlinie.</translation>
        </message>
        <message>
            <source>Line %1: nothing has moved yet.</source>
            <translation>Zeile %1: noch hat sich nichts bewegt.</translation>
        </message>
        <message>
            <source>Line %1: %2 from the head, tip %3 above the axis, wood at %4° under it, %5. Pass: %6</source>
            <translation>Zeile %1: %2 vom Kopf, Spitze %3 über der Achse, darunter das Holz bei %4°, %5. Durchgang: %6</translation>
        </message>
        <message>
            <source>at rapid</source>
            <translation>im Eilgang</translation>
        </message>
        <message>
            <source>cutting</source>
            <translation>schneidend</translation>
        </message>
    </context>
    <context>
        <name>QObject</name>
        <message>
        <source>the machine from the side</source>
        <translation>die Maschine von der Seite</translation>
    </message>
    <message>
        <source>what the price is made of</source>
        <translation>woraus der Preis besteht</translation>
    </message>
    <message>
        <source>the price is not worked out yet</source>
        <translation>der Preis ist noch nicht ausgerechnet</translation>
    </message>
    <message>
        <source>wood</source>
        <translation>Holz</translation>
    </message>
    <message>
        <source>hand work</source>
        <translation>Handarbeit</translation>
    </message>
    <message>
        <source>machine time</source>
        <translation>Maschinenzeit</translation>
    </message>
    <message>
        <source>finish</source>
        <translation>Oberfläche</translation>
    </message>
    <message>
        <source>overhead</source>
        <translation>Gemeinkosten</translation>
    </message>
    <message>
        <source>profit</source>
        <translation>Gewinn</translation>
    </message>
    <message>
        <source>tax</source>
        <translation>Steuer</translation>
    </message>
    <message>
        <source>%1 from</source>
        <translation>%1 von</translation>
    </message>
    <message>
        <source>%1 to</source>
        <translation>%1 bis</translation>
    </message>
    <message>
        <source>How far the axes go</source>
        <translation>Wie weit die Achsen fahren</translation>
    </message>
    <message>
        <source>What it holds</source>
        <translation>Was sie fasst</translation>
    </message>
    <message>
        <source>between centres</source>
        <translation>zwischen den Spitzen</translation>
    </message>
    <message>
        <source>swing (diameter)</source>
        <translation>Umlauf (Durchmesser)</translation>
    </message>
    <message>
        <source>jaws reach from the axis</source>
        <translation>Backen reichen von der Achse</translation>
    </message>
    <message>
        <source>chuck grips</source>
        <translation>Futter greift</translation>
    </message>
    <message>
        <source>centre grips</source>
        <translation>Spitze greift</translation>
    </message>
    <message>
        <source>tailstock above the axis</source>
        <translation>Reitstock über der Achse</translation>
    </message>
    <message>
        <source>keep clear of both</source>
        <translation>Abstand zu beiden</translation>
    </message>
    <message>
        <source>How fast</source>
        <translation>Wie schnell</translation>
    </message>
    <message>
        <source>rapid X a minute</source>
        <translation>Eilgang X in der Minute</translation>
    </message>
    <message>
        <source>rapid Z a minute</source>
        <translation>Eilgang Z in der Minute</translation>
    </message>
    <message>
        <source>rotary turns a minute</source>
        <translation>Umdrehungen der Drehachse in der Minute</translation>
    </message>
    <message>
        <source>greatest feed a minute</source>
        <translation>größter Vorschub in der Minute</translation>
    </message>
    <message>
        <source>greatest spindle speed</source>
        <translation>größte Drehzahl</translation>
    </message>
    <message>
        <source>lines a second</source>
        <translation>Zeilen in der Sekunde</translation>
    </message>
    <message>
        <source>How the blank may lie</source>
        <translation>Wie der Rohling liegen darf</translation>
    </message>
    <message>
        <source>off centre by</source>
        <translation>außer der Mitte um</translation>
    </message>
    <message>
        <source>bowed by</source>
        <translation>krumm um</translation>
    </message>
    <message>
        <source>oversize by</source>
        <translation>größer um</translation>
    </message>
    <message>
        <source>Where the height is set</source>
        <translation>Wo die Höhe genommen wird</translation>
    </message>
    <message>
        <source>cutters touch</source>
        <translation>Fräser berühren</translation>
    </message>
    <message>
        <source>its height over the axis</source>
        <translation>ihre Höhe über der Achse</translation>
    </message>
    <message>
        <source>gauge between</source>
        <translation>Endmaß dazwischen</translation>
    </message>
    <message>
        <source>What it is called</source>
        <translation>Wie sie heißt</translation>
    </message>
    <message>
        <source>name on the papers</source>
        <translation>Name auf den Papieren</translation>
    </message>
    <message>
        <source>My machine: %1</source>
        <translation>Meine Maschine: %1</translation>
    </message>
    <message>
        <source>These are my machine's own figures, and its first program ran well on a scrap. (Until then programs and papers say: example.)</source>
        <translation>Das sind die Zahlen meiner Maschine, und ihr erstes Programm lief gut auf einem Reststück. (Bis dahin steht auf Programmen und Papieren: Beispiel.)</translation>
    </message>
    <message>
        <source>The hour</source>
        <translation>Die Stunde</translation>
    </message>
    <message>
        <source>shop hour</source>
        <translation>Werkstattstunde</translation>
    </message>
    <message>
        <source>it includes overhead</source>
        <translation>sie enthält Gemeinkosten</translation>
    </message>
    <message>
        <source>machine hour</source>
        <translation>Maschinenstunde</translation>
    </message>
    <message>
        <source>currency</source>
        <translation>Währung</translation>
    </message>
    <message>
        <source>Minutes at the machine</source>
        <translation>Minuten an der Maschine</translation>
    </message>
    <message>
        <source>setting up a program</source>
        <translation>ein Programm einrichten</translation>
    </message>
    <message>
        <source>loading a piece</source>
        <translation>ein Stück einspannen</translation>
    </message>
    <message>
        <source>changing the cutter</source>
        <translation>den Fräser wechseln</translation>
    </message>
    <message>
        <source>Minutes at the bench</source>
        <translation>Minuten an der Bank</translation>
    </message>
    <message>
        <source>milling a blank</source>
        <translation>einen Rohling hobeln</translation>
    </message>
    <message>
        <source>a mortise with its tenon</source>
        <translation>ein Zapfenloch mit Zapfen</translation>
    </message>
    <message>
        <source>a tenon alone</source>
        <translation>ein Zapfen allein</translation>
    </message>
    <message>
        <source>squaring a mortise's corners</source>
        <translation>Ecken eines Zapfenlochs ausstemmen</translation>
    </message>
    <message>
        <source>a bore</source>
        <translation>eine Bohrung</translation>
    </message>
    <message>
        <source>a place for hand work</source>
        <translation>eine Stelle für Handarbeit</translation>
    </message>
    <message>
        <source>sanding a square metre</source>
        <translation>einen Quadratmeter schleifen</translation>
    </message>
    <message>
        <source>assembling a joint</source>
        <translation>eine Verbindung zusammenbauen</translation>
    </message>
    <message>
        <source>Wood and finish</source>
        <translation>Holz und Oberfläche</translation>
    </message>
    <message>
        <source>share for waste</source>
        <translation>Anteil für Verschnitt</translation>
    </message>
    <message>
        <source>board rule</source>
        <translation>Brettregel</translation>
    </message>
    <message>
        <source>saw kerf</source>
        <translation>Sägeschnitt</translation>
    </message>
    <message>
        <source>wood is charged</source>
        <translation>Holz wird berechnet</translation>
    </message>
    <message>
        <source>finish a square metre</source>
        <translation>Oberfläche je Quadratmeter</translation>
    </message>
    <message>
        <source>Profit and tax</source>
        <translation>Gewinn und Steuer</translation>
    </message>
    <message>
        <source>profit is a</source>
        <translation>Gewinn ist</translation>
    </message>
    <message>
        <source>rate of profit</source>
        <translation>Gewinnsatz</translation>
    </message>
    <message>
        <source>least charge</source>
        <translation>Mindestbetrag</translation>
    </message>
    <message>
        <source>deposit</source>
        <translation>Anzahlung</translation>
    </message>
    <message>
        <source>My rates</source>
        <translation>Meine Sätze</translation>
    </message>
    <message>
        <source>These are my shop's own rates. (Until then every quote says: example.)</source>
        <translation>Das sind die Sätze meiner Werkstatt. (Bis dahin steht auf jedem Angebot: Beispiel.)</translation>
    </message>
    <message>
        <source>no limit</source>
        <translation>keine Grenze</translation>
    </message>
    <message>
        <source>not said</source>
        <translation>nicht angegeben</translation>
    </message>
    <message>
        <source>none</source>
        <translation>keine</translation>
    </message>
    <message>
        <source>What the control takes</source>
        <translation>Was die Steuerung annimmt</translation>
    </message>
    <message>
        <source>programs are written in</source>
        <translation>Programme werden geschrieben in</translation>
    </message>
    <message>
        <source>decimals of a length</source>
        <translation>Stellen einer Länge</translation>
    </message>
    <message>
        <source>decimals of the rotary</source>
        <translation>Stellen der Drehachse</translation>
    </message>
    <message>
        <source>decimals of a feed</source>
        <translation>Stellen eines Vorschubs</translation>
    </message>
    <message>
        <source>always a decimal point</source>
        <translation>immer ein Dezimalpunkt</translation>
    </message>
    <message>
        <source>largest file in MB</source>
        <translation>größte Datei in MB</translation>
    </message>
    <message>
        <source>program files</source>
        <translation>Programmdateien</translation>
    </message>
    <message>
        <source>yes</source>
        <translation>ja</translation>
    </message>
    <message>
        <source>no</source>
        <translation>nein</translation>
    </message>
    <message>
        <source>no such axis</source>
        <translation>keine solche Achse</translation>
    </message>
    <message>
        <source>rapid Y a minute</source>
        <translation>Eilgang Y in der Minute</translation>
    </message>
    <message>
        <source>X gains a second, each second</source>
        <translation>X gewinnt je Sekunde, in der Sekunde</translation>
    </message>
    <message>
        <source>Y gains</source>
        <translation>Y gewinnt</translation>
    </message>
    <message>
        <source>Z gains</source>
        <translation>Z gewinnt</translation>
    </message>
    <message>
        <source>the rotary gains, in turns</source>
        <translation>die Drehachse gewinnt, in Umdrehungen</translation>
    </message>
    <message>
        <source>millimetres</source>
        <translation>Millimeter</translation>
    </message>
    <message>
        <source>inches</source>
        <translation>Zoll</translation>
    </message>
    <message>
        <source>one</source>
        <translation>eine</translation>
    </message>
    <message>
        <source>one a cutter</source>
        <translation>eine je Fräser</translation>
    </message>
    <message>
        <source>Letters of the axes</source>
        <translation>Buchstaben der Achsen</translation>
    </message>
    <message>
        <source>along the piece</source>
        <translation>längs des Stücks</translation>
    </message>
    <message>
        <source>sideways</source>
        <translation>seitwärts</translation>
    </message>
    <message>
        <source>in height</source>
        <translation>in der Höhe</translation>
    </message>
    <message>
        <source>the rotary</source>
        <translation>die Drehachse</translation>
    </message>
    <message>
        <source>How the rotary counts</source>
        <translation>Wie die Drehachse zählt</translation>
    </message>
    <message>
        <source>on and on</source>
        <translation>immer weiter</translation>
    </message>
    <message>
        <source>up to a limit</source>
        <translation>bis zu einer Grenze</translation>
    </message>
    <message>
        <source>anew from 360 degrees</source>
        <translation>ab 360 Grad von neuem</translation>
    </message>
    <message>
        <source>its word is in</source>
        <translation>ihr Wort ist in</translation>
    </message>
    <message>
        <source>degrees</source>
        <translation>Grad</translation>
    </message>
    <message>
        <source>millimetres on a surface</source>
        <translation>Millimetern auf einem Umfang</translation>
    </message>
    <message>
        <source>diameter of that surface</source>
        <translation>Durchmesser dieses Umfangs</translation>
    </message>
    <message>
        <source>none in degrees</source>
        <translation>keiner bei Grad</translation>
    </message>
    <message>
        <source>it counts</source>
        <translation>sie zählt</translation>
    </message>
    <message>
        <source>turns to the limit</source>
        <translation>Umdrehungen bis zur Grenze</translation>
    </message>
    <message>
        <source>lines that begin the count anew</source>
        <translation>Zeilen, die neu zu zählen beginnen</translation>
    </message>
    <message>
        <source>lines that hold it fast</source>
        <translation>Zeilen, die sie festhalten</translation>
    </message>
    <message>
        <source>lines that free it</source>
        <translation>Zeilen, die sie lösen</translation>
    </message>
    <message>
        <source>Which way it runs</source>
        <translation>Wie herum sie läuft</translation>
    </message>
    <message>
        <source>as the wood turns under the cutter, the rotary's word</source>
        <translation>dreht sich das Holz unter dem Fräser, so tut das Wort der Drehachse dies:</translation>
    </message>
    <message>
        <source>grows</source>
        <translation>es wächst</translation>
    </message>
    <message>
        <source>falls</source>
        <translation>es fällt</translation>
    </message>
    <message>
        <source>the piece's head is at the</source>
        <translation>der Kopf des Stücks ist am</translation>
    </message>
    <message>
        <source>chuck</source>
        <translation>Futter</translation>
    </message>
    <message>
        <source>tail centre</source>
        <translation>Reitstock</translation>
    </message>
    <message>
        <source>X grows towards the piece's</source>
        <translation>X wächst zum Stück hin nach</translation>
    </message>
    <message>
        <source>foot</source>
        <translation>Fuß</translation>
    </message>
    <message>
        <source>head</source>
        <translation>Kopf</translation>
    </message>
    <message>
        <source>feeds are written</source>
        <translation>Vorschübe stehen</translation>
    </message>
    <message>
        <source>as inverse time (G93)</source>
        <translation>als Kehrwert der Zeit (G93)</translation>
    </message>
    <message>
        <source>a minute (G94)</source>
        <translation>je Minute (G94)</translation>
    </message>
    <message>
        <source>a minute on a surface (G94)</source>
        <translation>je Minute auf einem Umfang (G94)</translation>
    </message>
    <message>
        <source>diameter of the feed's surface</source>
        <translation>Durchmesser des Umfangs für den Vorschub</translation>
    </message>
    <message>
        <source>Lines of every program</source>
        <translation>Zeilen jedes Programms</translation>
    </message>
    <message>
        <source>at its beginning</source>
        <translation>an seinem Anfang</translation>
    </message>
    <message>
        <source>where the cutter changes</source>
        <translation>wo der Fräser wechselt</translation>
    </message>
    <message>
        <source>at its end</source>
        <translation>an seinem Ende</translation>
    </message>
    <message>
        <source>share of the cost</source>
        <translation>Anteil an den Kosten</translation>
    </message>
    <message>
        <source>share of the price</source>
        <translation>Anteil am Preis</translation>
    </message>
    <message>
        <source>exact</source>
        <translation>genau</translation>
    </message>
    <message>
        <source>by surface measure</source>
        <translation>nach Flächenmaß</translation>
    </message>
    <message>
        <source>rounded up</source>
        <translation>aufgerundet</translation>
    </message>
    <message>
        <source>pieces and waste</source>
        <translation>Stücke und Verschnitt</translation>
    </message>
    <message>
        <source>whole boards</source>
        <translation>ganze Bretter</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::RadiusStrip</name>
        <message>
            <source>radius over the length</source>
            <translation>Radius über der Länge</translation>
        </message>
        <message>
            <source>radius: this order full, catalogue dashed</source>
            <translation>Radius: dieser Auftrag voll, Katalog gestrichelt</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::SeekDialog</name>
        <message>
            <source>Find the measure that gives</source>
            <translation>Das Maß finden, das ergibt</translation>
        </message>
        <message>
            <source>what is wished</source>
            <translation>was gewünscht ist</translation>
        </message>
        <message>
            <source>the measure that may move</source>
            <translation>das Maß, das sich ändern darf</translation>
        </message>
        <message>
            <source>the figure that is wished</source>
            <translation>der gewünschte Wert</translation>
        </message>
        <message>
            <source>&amp;Find</source>
            <translation>&amp;Suchen</translation>
        </message>
        <message>
            <source>&amp;Take it</source>
            <translation>Ü&amp;bernehmen</translation>
        </message>
        <message>
            <source>Close</source>
            <translation>Schließen</translation>
        </message>
        <message>
            <source>make</source>
            <translation>es soll</translation>
        </message>
        <message>
            <source>come to</source>
            <translation>werden zu</translation>
        </message>
        <message>
            <source>by moving</source>
            <translation>durch Ändern von</translation>
        </message>
        <message>
            <source>%1 of %2 gives %3 of %4.%5</source>
            <translation>%1 von %2 ergibt %3 von %4.%5</translation>
        </message>
        <message>
            <source> It rises and falls over the measures tried, so there may be other answers.</source>
            <translation> Es steigt und fällt über die versuchten Maße; es kann andere Antworten geben.</translation>
        </message>
        <message>
            <source>now %1</source>
            <translation>jetzt %1</translation>
        </message>
        <message>
            <source>not known yet</source>
            <translation>noch nicht bekannt</translation>
        </message>
        <message>
            <source>&amp;Stop</source>
            <translation>&amp;Anhalten</translation>
        </message>
        <message>
            <source>looking for it …</source>
            <translation>wird gesucht …</translation>
        </message>
        <message>
            <source>%1 found</source>
            <translation>%1 gefunden</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::SheetModel</name>
        <message>
            <source>what follows</source>
            <translation>was daraus folgt</translation>
        </message>
        <message>
            <source>checks</source>
            <translation>Prüfungen</translation>
        </message>
        <message>
            <source>%1 %2 (catalogue %3)</source>
            <translation>%1 %2 (Katalog %3)</translation>
        </message>
        <message>
            <source>  → goes into it</source>
            <translation>  → geht hinein</translation>
        </message>
        <message>
            <source>  ← follows it</source>
            <translation>  ← folgt daraus</translation>
        </message>
        <message>
            <source>holds</source>
            <translation>hält</translation>
        </message>
        <message>
            <source>✗ does not hold</source>
            <translation>✗ hält nicht</translation>
        </message>
        <message>
            <source>! look at it</source>
            <translation>! ansehen</translation>
        </message>
        <message>
            <source>✗ cannot be checked</source>
            <translation>✗ nicht prüfbar</translation>
        </message>
        <message>
            <source>measure</source>
            <translation>Maß</translation>
        </message>
        <message>
            <source>catalogue</source>
            <translation>Katalog</translation>
        </message>
        <message>
            <source>this order</source>
            <translation>dieser Auftrag</translation>
        </message>
        <message>
            <source>what it is</source>
            <translation>was es ist</translation>
        </message>
        <message>
            <source>paste</source>
            <translation>Einfügen</translation>
        </message>
        <message>
            <source>carry %1 across</source>
            <translation>%1 übertragen</translation>
        </message>
        <message>
            <source>clear</source>
            <translation>Leeren</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::StandingView</name>
        <message>
            <source>the frame as it stands, beside the catalogued one</source>
            <translation>das Möbel, wie es steht, neben dem des Katalogs</translation>
        </message>
        <message>
            <source>catalogue</source>
            <translation>Katalog</translation>
        </message>
        <message>
            <source>%1, before the last change</source>
            <translation>%1, vor der letzten Änderung</translation>
        </message>
    </context>
    <context>
        <name>words</name>
        <message>
            <source>apron rail</source>
            <translation>Zarge</translation>
        </message>
        <message>
            <source>rail, apron, skirt</source>
            <translation>rail, apron, skirt</translation>
        </message>
        <message>
            <source>the board between two legs under the top; its tenons go into the legs' mortises</source>
            <translation>das Brett zwischen zwei Beinen unter der Platte; seine Zapfen sitzen in den Zapfenlöchern der Beine</translation>
        </message>
        <message>
            <source>baluster</source>
            <translation>Baluster</translation>
        </message>
        <message>
            <source>spindle, banister</source>
            <translation>Docke, Geländerstab; spindle, banister</translation>
        </message>
        <message>
            <source>a turned post that carries a stair's rail and closes the opening</source>
            <translation>gedrechselter Stab, der den Handlauf trägt und die Öffnung schließt</translation>
        </message>
        <message>
            <source>bead</source>
            <translation>Rundstab</translation>
        </message>
        <message>
            <source>torus, astragal (small)</source>
            <translation>Wulst, Perle; torus, astragal</translation>
        </message>
        <message>
            <source>a ring that bulges</source>
            <translation>ein Ring, der vorsteht</translation>
        </message>
        <message>
            <source>blank</source>
            <translation>Rohling</translation>
        </message>
        <message>
            <source>billet, squared stock</source>
            <translation>Kantel; billet</translation>
        </message>
        <message>
            <source>the wood as it goes on the machine</source>
            <translation>das Holz, wie es auf die Maschine kommt</translation>
        </message>
        <message>
            <source>bed bolt</source>
            <translation>Bettschraube</translation>
        </message>
        <message>
            <source>rail bolt</source>
            <translation>rail bolt</translation>
        </message>
        <message>
            <source>the long bolt by which a side rail is drawn to its post and comes apart again</source>
            <translation>die lange Schraube, die eine Bettseite an den Pfosten zieht und sich wieder lösen lässt</translation>
        </message>
        <message>
            <source>cove</source>
            <translation>Kehle</translation>
        </message>
        <message>
            <source>hollow, scotia</source>
            <translation>Hohlkehle; hollow, scotia</translation>
        </message>
        <message>
            <source>a ring that is hollow</source>
            <translation>ein Ring, der hohl ist</translation>
        </message>
        <message>
            <source>cut check</source>
            <translation>Schnittprüfung</translation>
        </message>
        <message>
            <source>proof</source>
            <translation>Nachweis; proof</translation>
        </message>
        <message>
            <source>the program's own text is read back and cut in simulation; only what passes is given out</source>
            <translation>der Text des Programms wird zurückgelesen und in der Simulation geschnitten; nur was besteht, wird herausgegeben</translation>
        </message>
        <message>
            <source>fillet</source>
            <translation>Plättchen</translation>
        </message>
        <message>
            <source>flat, listel</source>
            <translation>Steg; flat, listel</translation>
        </message>
        <message>
            <source>a narrow flat ring between two curves</source>
            <translation>ein schmaler flacher Ring zwischen zwei Kurven</translation>
        </message>
        <message>
            <source>flute</source>
            <translation>Kannelur</translation>
        </message>
        <message>
            <source>groove</source>
            <translation>Rinne; groove</translation>
        </message>
        <message>
            <source>a hollow along the piece; reeds are its opposite</source>
            <translation>eine Hohlung längs des Stücks; Stäbe sind das Gegenteil</translation>
        </message>
        <message>
            <source>foot</source>
            <translation>Fuß</translation>
        </message>
        <message>
            <source>toe, lower end</source>
            <translation>unteres Ende; toe</translation>
        </message>
        <message>
            <source>the end on the floor</source>
            <translation>das Ende auf dem Boden</translation>
        </message>
        <message>
            <source>half the diagonal</source>
            <translation>halbe Diagonale</translation>
        </message>
        <message>
            <source>corner radius</source>
            <translation>Eckradius</translation>
        </message>
        <message>
            <source>how far a square's corner is from the middle: 0.707 times its width</source>
            <translation>wie weit die Ecke eines Quadrats von der Mitte ist: 0,707 mal seine Breite</translation>
        </message>
        <message>
            <source>hand</source>
            <translation>Hand</translation>
        </message>
        <message>
            <source>left and right, mirrored</source>
            <translation>links und rechts, gespiegelt</translation>
        </message>
        <message>
            <source>two pieces that are each other's mirror: same turning, mortises on other faces</source>
            <translation>zwei Stücke, die einander spiegeln: gleiche Drechselform, Zapfenlöcher auf anderen Flächen</translation>
        </message>
        <message>
            <source>haunch</source>
            <translation>Feder am Zapfen</translation>
        </message>
        <message>
            <source>tenon shoulder stub</source>
            <translation>Nutzapfen</translation>
        </message>
        <message>
            <source>the short part of a tenon near the leg's head; it keeps the rail from twisting</source>
            <translation>der kurze Teil eines Zapfens nahe dem Kopf; er hält die Zarge davon ab, sich zu verdrehen</translation>
        </message>
        <message>
            <source>head</source>
            <translation>Kopf</translation>
        </message>
        <message>
            <source>top, joined end</source>
            <translation>oberes Ende</translation>
        </message>
        <message>
            <source>the end where the joints are; lengths count from here</source>
            <translation>das Ende mit den Verbindungen; Längen zählen von hier</translation>
        </message>
        <message>
            <source>horn</source>
            <translation>Überstand</translation>
        </message>
        <message>
            <source>joggle</source>
            <translation>joggle</translation>
        </message>
        <message>
            <source>waste left above a mortise until the joint is glued, so that it does not split</source>
            <translation>Abfall über einem Zapfenloch, bis verleimt ist, damit es nicht ausreißt</translation>
        </message>
        <message>
            <source>mortise</source>
            <translation>Zapfenloch</translation>
        </message>
        <message>
            <source>mortice, slot</source>
            <translation>Schlitz; mortice</translation>
        </message>
        <message>
            <source>the pocket that a tenon goes into</source>
            <translation>die Tasche für den Zapfen</translation>
        </message>
        <message>
            <source>ogee</source>
            <translation>Karnies</translation>
        </message>
        <message>
            <source>S-curve, cyma</source>
            <translation>S-Kurve, Cyma</translation>
        </message>
        <message>
            <source>a curve that turns from bulging to hollow</source>
            <translation>eine Kurve, die von voll zu hohl wechselt</translation>
        </message>
        <message>
            <source>pommel</source>
            <translation>Schulter am Vierkant</translation>
        </message>
        <message>
            <source>shoulder, lamb's tongue (a cut of it)</source>
            <translation>Lammzunge (eine Form davon); shoulder</translation>
        </message>
        <message>
            <source>where the square meets the round</source>
            <translation>wo das Vierkant ins Runde übergeht</translation>
        </message>
        <message>
            <source>story stick</source>
            <translation>Maßlatte</translation>
        </message>
        <message>
            <source>rod, marking stick</source>
            <translation>Brettriss, Lehre; rod</translation>
        </message>
        <message>
            <source>a strip with all marks and diameters of a turning</source>
            <translation>eine Leiste mit allen Marken und Durchmessern einer Drechselarbeit</translation>
        </message>
        <message>
            <source>vase</source>
            <translation>Vase</translation>
        </message>
        <message>
            <source>urn, bulb</source>
            <translation>Urne, Balusterbauch</translation>
        </message>
        <message>
            <source>a long swelling with a narrow neck</source>
            <translation>eine lange Schwellung mit schmalem Hals</translation>
        </message>
        <message>
            <source>8/4 stock</source>
            <translation>8/4-Bohle</translation>
        </message>
        <message>
            <source>eight-quarter, 2 in rough</source>
            <translation>acht Viertel, 2 Zoll roh</translation>
        </message>
        <message>
            <source>rough thickness in quarters of an inch, before milling</source>
            <translation>rohe Dicke in Viertelzoll, vor dem Hobeln</translation>
        </message>
        <message>
            <source>Words of the trade</source>
            <translation>Wörter des Handwerks</translation>
        </message>
        <message>
            <source>here</source>
            <translation>hier</translation>
        </message>
        <message>
            <source>also called</source>
            <translation>auch genannt</translation>
        </message>
        <message>
            <source>what it is</source>
            <translation>was es ist</translation>
        </message>
    </context>
<context>
    <name>pommel::ui::SolidView</name>
    <message>
        <source>%1. Drag or use the arrows to turn it; the wheel, + and - bring it closer; Home sets it up again.</source>
        <translation>%1. Ziehen oder die Pfeiltasten drehen es; das Rad, + und - holen es näher; Pos1 stellt es wieder auf.</translation>
    </message>
    <message>
        <source>There is no solid: %1</source>
        <translation>Es gibt keinen Körper: %1</translation>
    </message>
    <message>
        <source>the solid: %1</source>
        <translation>der Körper: %1</translation>
    </message>
    <message>
        <source>The measures make no piece; what is seen was made from those before.</source>
        <translation>Die Maße ergeben kein Stück; was zu sehen ist, wurde aus den vorigen gemacht.</translation>
    </message>
    <message>
        <source>%1: the solid is being made; what is seen is the one before …</source>
        <translation>%1: der Körper wird gemacht; was zu sehen ist, ist der vorige …</translation>
    </message>
</context>
<context>
    <name>pommel::ui::TurnedPicture</name>
    <message>
        <source>the solid, turned with the arrows</source>
        <translation>der Körper, mit den Pfeiltasten zu drehen</translation>
    </message>
</context>
<context>
    <name>pommel::ui::DesignSaver</name>
    <message>
        <source>Save the design</source>
        <translation>Den Entwurf sichern</translation>
    </message>
    <message>
        <source>as a new design of the catalog</source>
        <translation>als neuer Entwurf des Katalogs</translation>
    </message>
    <message>
        <source>as revision %1 of '%2'; the one before is kept</source>
        <translation>als Fassung %1 von „%2“; die vorige bleibt erhalten</translation>
    </message>
    <message>
        <source>with the measures of this size as its own</source>
        <translation>mit den Maßen dieser Größe als seinen eigenen</translation>
    </message>
    <message>
        <source>%1, another</source>
        <translation>%1, ein anderer</translation>
    </message>
    <message>
        <source>name</source>
        <translation>Name</translation>
    </message>
    <message>
        <source>file</source>
        <translation>Datei</translation>
    </message>
    <message>
        <source>date</source>
        <translation>Datum</translation>
    </message>
    <message>
        <source>what is different</source>
        <translation>was anders ist</translation>
    </message>
    <message>
        <source>why</source>
        <translation>warum</translation>
    </message>
</context>
<context>
    <name>pommel::ui::OrderEditor</name>
    <message>
        <source>The order itself</source>
        <translation>Der Auftrag selbst</translation>
    </message>
    <message>
        <source>Take it into the order</source>
        <translation>In den Auftrag übernehmen</translation>
    </message>
    <message>
        <source>On the papers</source>
        <translation>Auf den Papieren</translation>
    </message>
    <message>
        <source>what is ordered</source>
        <translation>was bestellt ist</translation>
    </message>
    <message>
        <source>number</source>
        <translation>Nummer</translation>
    </message>
    <message>
        <source>client</source>
        <translation>Kunde</translation>
    </message>
    <message>
        <source>date</source>
        <translation>Datum</translation>
    </message>
    <message>
        <source>lengths are written in</source>
        <translation>Längen stehen in</translation>
    </message>
    <message>
        <source>millimetres</source>
        <translation>Millimetern</translation>
    </message>
    <message>
        <source>inches</source>
        <translation>Zoll</translation>
    </message>
    <message>
        <source>paper</source>
        <translation>Papier</translation>
    </message>
    <message>
        <source>letter</source>
        <translation>Letter</translation>
    </message>
    <message>
        <source>none of its own</source>
        <translation>kein eigener</translation>
    </message>
    <message>
        <source>Machine and cutters</source>
        <translation>Maschine und Fräser</translation>
    </message>
    <message>
        <source>machine</source>
        <translation>Maschine</translation>
    </message>
    <message>
        <source>roughing</source>
        <translation>Schruppen</translation>
    </message>
    <message>
        <source>finishing</source>
        <translation>Schlichten</translation>
    </message>
    <message>
        <source>where the finishing one left wood</source>
        <translation>wo der Schlichtfräser Holz stehen ließ</translation>
    </message>
    <message>
        <source>How it is cut</source>
        <translation>Wie gefräst wird</translation>
    </message>
    <message>
        <source>passes</source>
        <translation>Gänge</translation>
    </message>
    <message>
        <source>whichever way is faster</source>
        <translation>wie es schneller geht</translation>
    </message>
    <message>
        <source>along the piece</source>
        <translation>längs des Stücks</translation>
    </message>
    <message>
        <source>round and round</source>
        <translation>rundum</translation>
    </message>
    <message>
        <source>ridge that may be left</source>
        <translation>Grat, der bleiben darf</translation>
    </message>
    <message>
        <source>or the way between lines</source>
        <translation>oder der Abstand der Bahnen</translation>
    </message>
    <message>
        <source>follows from the ridge</source>
        <translation>folgt aus dem Grat</translation>
    </message>
    <message>
        <source>teeth run with the cutter's way</source>
        <translation>Schneiden laufen mit dem Weg des Fräsers</translation>
    </message>
    <message>
        <source>nowhere</source>
        <translation>nirgends</translation>
    </message>
    <message>
        <source>in the last passes</source>
        <translation>in den letzten Gängen</translation>
    </message>
    <message>
        <source>everywhere</source>
        <translation>überall</translation>
    </message>
    <message>
        <source>joints are cut by</source>
        <translation>Verbindungen schneidet</translation>
    </message>
    <message>
        <source>the machine, as far as it can</source>
        <translation>die Maschine, so weit sie kann</translation>
    </message>
    <message>
        <source>the bench</source>
        <translation>die Bank</translation>
    </message>
    <message>
        <source>the order itself</source>
        <translation>der Auftrag selbst</translation>
    </message>
    <message>
        <source>Design</source>
        <translation>Entwurf</translation>
    </message>
    <message>
        <source>Another design …</source>
        <translation>Anderer Entwurf …</translation>
    </message>
    <message>
        <source>The outline that was changed and not saved goes.</source>
        <translation>Der geänderte, nicht gesicherte Umriss fällt weg.</translation>
    </message>
    <message>
        <source>It has no such measures, so these entries go: %1.</source>
        <translation>Er hat diese Maße nicht, darum fallen diese Einträge weg: %1.</translation>
    </message>
    <message>
        <source>Undo brings back what goes.</source>
        <translation>Rückgängig holt zurück, was wegfällt.</translation>
    </message>
    <message>
        <source>as usual: %1</source>
        <translation>wie üblich: %1</translation>
    </message>
    <message>
        <source>as usual: %1; or give the way between lines</source>
        <translation>wie üblich: %1; oder den Abstand der Bahnen angeben</translation>
    </message>
    <message>
        <source>A4 for millimetres, letter for inches</source>
        <translation>A4 bei Millimetern, Letter bei Zoll</translation>
    </message>
    <message>
        <source>a printed scale bar of 200 mm measures</source>
        <translation>ein gedruckter Maßstab von 200 mm misst</translation>
    </message>
    <message>
        <source>ends that are thinner than they should be</source>
        <translation>Enden, dünner als sie sein sollten</translation>
    </message>
    <message>
        <source>are cut, and told</source>
        <translation>werden geschnitten, und es wird gesagt</translation>
    </message>
    <message>
        <source>are refused</source>
        <translation>werden abgelehnt</translation>
    </message>
</context>
<context>
    <name>palette</name>
    <message>
        <source>fillet</source>
        <translation>Plättchen</translation>
    </message>
    <message>
        <source>bead</source>
        <translation>Rundstab</translation>
    </message>
    <message>
        <source>torus</source>
        <translation>Wulst</translation>
    </message>
    <message>
        <source>cove</source>
        <translation>Hohlkehle</translation>
    </message>
    <message>
        <source>vee</source>
        <translation>V-Nut</translation>
    </message>
    <message>
        <source>ovolo</source>
        <translation>Viertelstab</translation>
    </message>
    <message>
        <source>scotia</source>
        <translation>Einziehung</translation>
    </message>
    <message>
        <source>cyma recta</source>
        <translation>Karnies</translation>
    </message>
    <message>
        <source>cyma reversa</source>
        <translation>umgekehrtes Karnies</translation>
    </message>
    <message>
        <source>cylinder</source>
        <translation>Zylinder</translation>
    </message>
    <message>
        <source>taper</source>
        <translation>Verjüngung</translation>
    </message>
    <message>
        <source>entasis</source>
        <translation>Entasis</translation>
    </message>
    <message>
        <source>vase</source>
        <translation>Vase</translation>
    </message>
    <message>
        <source>ball</source>
        <translation>Kugel</translation>
    </message>
    <message>
        <source>square block</source>
        <translation>Vierkantblock</translation>
    </message>
    <message>
        <source>%1 added</source>
        <translation>%1 dazu</translation>
    </message>
    <message>
        <source>element taken out</source>
        <translation>Element herausgenommen</translation>
    </message>
    <message>
        <source>element moved</source>
        <translation>Element verschoben</translation>
    </message>
    <message>
        <source>%1 of an element</source>
        <translation>%1 eines Elements</translation>
    </message>
        <message>
            <source>square</source>
            <translation>Vierkant</translation>
        </message>
        <message>
            <source>pommel</source>
            <translation>Schulter</translation>
        </message>
        <message>
            <source>pin</source>
            <translation>Zapfen</translation>
        </message>
        <message>
            <source>rounded</source>
            <translation>gerundet</translation>
        </message>
        <message>
            <source>sloped</source>
            <translation>schräg</translation>
        </message>
        <message>
            <source>ogee</source>
            <translation>Karnies</translation>
        </message>
</context>
<context>
    <name>pommel::ui::OutlinePalette</name>
    <message>
        <source>elements that can be added</source>
        <translation>Elemente, die dazukommen können</translation>
    </message>
    <message>
        <source>Put it before, towards the head</source>
        <translation>Davor setzen, zum Kopf hin</translation>
    </message>
    <message>
        <source>Put it behind, towards the foot</source>
        <translation>Dahinter setzen, zum Fuß hin</translation>
    </message>
    <message>
        <source>Move the element towards the head</source>
        <translation>Das Element zum Kopf hin schieben</translation>
    </message>
    <message>
        <source>Move the element towards the foot</source>
        <translation>Das Element zum Fuß hin schieben</translation>
    </message>
    <message>
        <source>Take the element out</source>
        <translation>Das Element herausnehmen</translation>
    </message>
    <message>
        <source>sizes of the element, as written</source>
        <translation>Größen des Elements, wie sie dastehen</translation>
    </message>
    <message>
        <source>size</source>
        <translation>Größe</translation>
    </message>
    <message>
        <source>as written</source>
        <translation>wie es dasteht</translation>
    </message>
    <message>
        <source>At the hairline: %1. It belongs to the design; save it there when it is good.</source>
        <translation>Unter der Haarlinie: %1. Es gehört zum Entwurf; dort sichern, wenn es gut ist.</translation>
    </message>
</context>
<context>
    <name>pommel::ui::CutStrip</name>
    <message>
        <source>the wood under the cutter</source>
        <translation>das Holz unter dem Fräser</translation>
    </message>
    <message>
        <source>the wood under the cutter: …</source>
        <translation>das Holz unter dem Fräser: …</translation>
    </message>
</context>
<context>
    <name>pommel::ui::CutView</name>
    <message>
        <source>how far the cut has gone</source>
        <translation>wie weit gefräst ist</translation>
    </message>
    <message>
        <source>how fast the cut is shown</source>
        <translation>wie schnell das Fräsen gezeigt wird</translation>
    </message>
    <message>
        <source>as it cuts</source>
        <translation>wie es fräst</translation>
    </message>
    <message>
        <source>half a minute a second</source>
        <translation>eine halbe Minute in der Sekunde</translation>
    </message>
    <message>
        <source>two minutes a second</source>
        <translation>zwei Minuten in der Sekunde</translation>
    </message>
    <message>
        <source>ten minutes a second</source>
        <translation>zehn Minuten in der Sekunde</translation>
    </message>
    <message>
        <source>Backwards</source>
        <translation>Rückwärts</translation>
    </message>
    <message>
        <source>Stand still</source>
        <translation>Stillstehen</translation>
    </message>
    <message>
        <source>Let it cut</source>
        <translation>Fräsen lassen</translation>
    </message>
    <message>
        <source>cutting the blank …</source>
        <translation>der Rohling wird gefräst …</translation>
    </message>
    <message>
        <source>no checked program yet</source>
        <translation>noch kein geprüftes Programm</translation>
    </message>
    <message>
        <source>%1 of %2 min, line %3</source>
        <translation>%1 von %2 min, Zeile %3</translation>
    </message>
</context>
<context>
    <name>pommel::ui::PlanPicture</name>
    <message>
        <source>the cutting plan, drawn</source>
        <translation>der Zuschnittplan, gezeichnet</translation>
    </message>
</context>
<context>
    <name>pommel::ui::FollowsView</name>
    <message>
        <source>what follows, to be read</source>
        <translation>was folgt, zum Lesen</translation>
    </message>
    <message>
        <source>what is different from the catalogue, and the cut check</source>
        <translation>was anders ist als im Katalog, und die Fräsprüfung</translation>
    </message>
    <message>
        <source>&amp;What is different</source>
        <translation>&amp;Was anders ist</translation>
    </message>
    <message>
        <source>piece</source>
        <translation>Stück</translation>
    </message>
    <message>
        <source>of them</source>
        <translation>davon</translation>
    </message>
    <message>
        <source>rough</source>
        <translation>roh</translation>
    </message>
    <message>
        <source>finished</source>
        <translation>fertig</translation>
    </message>
    <message>
        <source>stock</source>
        <translation>Holz</translation>
    </message>
    <message>
        <source>cut list</source>
        <translation>Zuschnittliste</translation>
    </message>
    <message>
        <source>the wood</source>
        <translation>das Holz</translation>
    </message>
    <message>
        <source>The w&amp;ood</source>
        <translation>Das H&amp;olz</translation>
    </message>
    <message>
        <source>what</source>
        <translation>was</translation>
    </message>
    <message>
        <source>how it was reckoned</source>
        <translation>wie gerechnet wurde</translation>
    </message>
    <message>
        <source>amount</source>
        <translation>Betrag</translation>
    </message>
    <message>
        <source>the price, line by line</source>
        <translation>der Preis, Zeile für Zeile</translation>
    </message>
    <message>
        <source>The &amp;price</source>
        <translation>Der &amp;Preis</translation>
    </message>
    <message>
        <source>being worked out …</source>
        <translation>wird ausgerechnet …</translation>
    </message>
    <message>
        <source>Example: the shop's rates are not confirmed.</source>
        <translation>Beispiel: die Sätze der Werkstatt sind nicht bestätigt.</translation>
    </message>
    <message>
        <source>cost</source>
        <translation>Kosten</translation>
    </message>
    <message>
        <source>profit</source>
        <translation>Gewinn</translation>
    </message>
    <message>
        <source>price</source>
        <translation>Preis</translation>
    </message>
    <message>
        <source>the shop's minimum</source>
        <translation>das Mindeste der Werkstatt</translation>
    </message>
    <message>
        <source>tax</source>
        <translation>Steuer</translation>
    </message>
    <message>
        <source>total</source>
        <translation>Summe</translation>
    </message>
    <message>
        <source>deposit</source>
        <translation>Anzahlung</translation>
    </message>
</context>
<context>
    <name>pommel::ui::ShopForm</name>
    <message>
        <source>Kept in %1</source>
        <translation>Aufbewahrt in %1</translation>
    </message>
    <message>
        <source>as usual: %1</source>
        <translation>wie üblich: %1</translation>
    </message>
    <message>
        <source>Undo</source>
        <translation>Rückgängig</translation>
    </message>
    <message>
        <source>Redo</source>
        <translation>Wiederholen</translation>
    </message>
</context>
<context>
    <name>pommel::ui::ShopEntries</name>
    <message>
        <source>what is confirmed</source>
        <translation>was bestätigt ist</translation>
    </message>
    <message>
        <source>back to the file</source>
        <translation>zurück zur Datei</translation>
    </message>
</context>
    <context>
        <name>pommel::ui::ReadingsModel</name>
        <message>
            <source>clear cells</source>
            <translation>Zellen leeren</translation>
        </message>
        <message>
            <source>take rows out</source>
            <translation>Zeilen herausnehmen</translation>
        </message>
        <message>
            <source>what is pasted</source>
            <translation>was eingefügt wird</translation>
        </message>
        <message>
            <source>paste</source>
            <translation>einfügen</translation>
        </message>
        <message>
            <source>place</source>
            <translation>Stelle</translation>
        </message>
        <message>
            <source>diameter</source>
            <translation>Durchmesser</translation>
        </message>
        <message>
            <source>± of it</source>
            <translation>± davon</translation>
        </message>
        <message>
            <source>note</source>
            <translation>Notiz</translation>
        </message>
        <message>
            <source>what is seen</source>
            <translation>was zu sehen ist</translation>
        </message>
        <message>
            <source>reading %1</source>
            <translation>Messung %1</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::MatchBench</name>
        <message>
            <source>readings of %1</source>
            <translation>Messungen aus %1</translation>
        </message>
        <message>
            <source>%1 mm outside</source>
            <translation>%1 mm außerhalb</translation>
        </message>
        <message>
            <source>%1 mm inside</source>
            <translation>%1 mm innerhalb</translation>
        </message>
        <message>
            <source>worn: %1</source>
            <translation>abgenutzt: %1</translation>
        </message>
        <message>
            <source>on the outline</source>
            <translation>auf dem Umriss</translation>
        </message>
        <message>
            <source>✗ believed wrong: %1</source>
            <translation>✗ wohl falsch: %1</translation>
        </message>
        <message>
            <source>element pinned</source>
            <translation>Element festgehalten</translation>
        </message>
        <message>
            <source>element split</source>
            <translation>Element geteilt</translation>
        </message>
        <message>
            <source>elements made one</source>
            <translation>Elemente vereint</translation>
        </message>
        <message>
            <source>kind of an element</source>
            <translation>Art eines Elements</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::FoundModel</name>
        <message>
            <source>□ %1 across</source>
            <translation>□ %1 breit</translation>
        </message>
        <message>
            <source>%1 to %2</source>
            <translation>%1 bis %2</translation>
        </message>
        <message>
            <source>%1, greatest %2</source>
            <translation>%1, größter %2</translation>
        </message>
        <message>
            <source>%1, least %2</source>
            <translation>%1, kleinster %2</translation>
        </message>
        <message>
            <source>%1, through %2</source>
            <translation>%1, durch %2</translation>
        </message>
        <message>
            <source>%1, as %2</source>
            <translation>%1, wie %2</translation>
        </message>
        <message>
            <source>no reading on it</source>
            <translation>keine Messung darauf</translation>
        </message>
        <message>
            <source>%1 mm, of %2</source>
            <translation>%1 mm, bei %2</translation>
        </message>
        <message>
            <source>element</source>
            <translation>Element</translation>
        </message>
        <message>
            <source>from head</source>
            <translation>vom Kopf</translation>
        </message>
        <message>
            <source>length</source>
            <translation>Länge</translation>
        </message>
        <message>
            <source>diameters</source>
            <translation>Durchmesser</translation>
        </message>
        <message>
            <source>off, readings</source>
            <translation>daneben, Messungen</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::MatchStrip</name>
        <message>
            <source>the fitted outline over its readings</source>
            <translation>der gefundene Umriss über seinen Messungen</translation>
        </message>
        <message>
            <source>type readings below: where along the piece, and the diameter there</source>
            <translation>Messungen unten eintippen: wo am Stück, und der Durchmesser dort</translation>
        </message>
        <message>
            <source>the readings; no outline yet</source>
            <translation>die Messungen; noch kein Umriss</translation>
        </message>
        <message>
            <source>the outline as it was before the last change …</source>
            <translation>der Umriss vor der letzten Änderung …</translation>
        </message>
        <message>
            <source>□ %1 across</source>
            <translation>□ %1 breit</translation>
        </message>
        <message>
            <source>⌀ %1</source>
            <translation>⌀ %1</translation>
        </message>
        <message>
            <source>%1 from the head, %2 from the foot  ·  %3  ·  %4</source>
            <translation>%1 vom Kopf, %2 vom Fuß  ·  %3  ·  %4</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::MisfitStrip</name>
        <message>
            <source>how far the readings lie off the outline</source>
            <translation>wie weit die Messungen neben dem Umriss liegen</translation>
        </message>
        <message>
            <source>how far the readings lie off the outline: …</source>
            <translation>wie weit die Messungen neben dem Umriss liegen: …</translation>
        </message>
        <message>
            <source>how far the readings lie off the outline: lines at %1 outside and inside</source>
            <translation>wie weit die Messungen neben dem Umriss liegen: Linien bei %1 außen und innen</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::ReadingsGrid</name>
        <message>
            <source>readings: place, diameter, uncertainty, note</source>
            <translation>Messungen: Stelle, Durchmesser, Unsicherheit, Notiz</translation>
        </message>
    </context>
    <context>
        <name>families</name>
        <message>
            <source>table leg</source>
            <translation>Tischbein</translation>
        </message>
        <message>
            <source>baluster</source>
            <translation>Baluster</translation>
        </message>
        <message>
            <source>bed post</source>
            <translation>Bettpfosten</translation>
        </message>
        <message>
            <source>lamp column</source>
            <translation>Lampensäule</translation>
        </message>
    </context>
    <context>
        <name>pommel::ui::MatchWindow</name>
        <message>
            <source>Match a turning[*] — Pommel</source>
            <translation>Ein Drehstück nachbilden[*] — Pommel</translation>
        </message>
        <message>
            <source>plain numbers are in</source>
            <translation>bloße Zahlen sind in</translation>
        </message>
        <message>
            <source>width of the squares</source>
            <translation>Breite der Vierkante</translation>
        </message>
        <message>
            <source>such as 64 mm</source>
            <translation>etwa 64 mm</translation>
        </message>
        <message>
            <source>uncertainty of a diameter</source>
            <translation>Unsicherheit eines Durchmessers</translation>
        </message>
        <message>
            <source>0.1 mm</source>
            <translation>0.1 mm</translation>
        </message>
        <message>
            <source>uncertainty of a place</source>
            <translation>Unsicherheit einer Stelle</translation>
        </message>
        <message>
            <source>as a diameter's</source>
            <translation>wie beim Durchmesser</translation>
        </message>
        <message>
            <source>sizes as read, not rounded</source>
            <translation>Größen wie gemessen, nicht gerundet</translation>
        </message>
        <message>
            <source>&amp;plain numbers are in</source>
            <translation>&amp;bloße Zahlen sind in</translation>
        </message>
        <message>
            <source>s&amp;quares are wide</source>
            <translation>Breite der &amp;Vierkante</translation>
        </message>
        <message>
            <source>diameters ±</source>
            <translation>Durchmesser ±</translation>
        </message>
        <message>
            <source>places ±</source>
            <translation>Stellen ±</translation>
        </message>
        <message>
            <source>unit of the drawing</source>
            <translation>Einheit der Zeichnung</translation>
        </message>
        <message>
            <source>as its file says</source>
            <translation>wie die Datei sagt</translation>
        </message>
        <message>
            <source>axis of the scan</source>
            <translation>Achse des Scans</translation>
        </message>
        <message>
            <source>found</source>
            <translation>gefunden</translation>
        </message>
        <message>
            <source>x</source>
            <translation>x</translation>
        </message>
        <message>
            <source>y</source>
            <translation>y</translation>
        </message>
        <message>
            <source>z</source>
            <translation>z</translation>
        </message>
        <message>
            <source>gaps that are closed</source>
            <translation>Lücken, die geschlossen werden</translation>
        </message>
        <message>
            <source>its head is at the other end</source>
            <translation>der Kopf ist am anderen Ende</translation>
        </message>
        <message>
            <source>Put it away</source>
            <translation>Weglegen</translation>
        </message>
        <message>
            <source>its unit</source>
            <translation>ihre Einheit</translation>
        </message>
        <message>
            <source>gaps up to</source>
            <translation>Lücken bis</translation>
        </message>
        <message>
            <source>axis</source>
            <translation>Achse</translation>
        </message>
        <message>
            <source>Not pasted</source>
            <translation>Nicht eingefügt</translation>
        </message>
        <message>
            <source>the elements it is cut into</source>
            <translation>die Elemente, in die es geteilt ist</translation>
        </message>
        <message>
            <source>Keep it as it is</source>
            <translation>So festhalten</translation>
        </message>
        <message>
            <source>Part it at the hairline</source>
            <translation>Am Haarstrich teilen</translation>
        </message>
        <message>
            <source>One with the next</source>
            <translation>Mit dem nächsten eins</translation>
        </message>
        <message>
            <source>what the element is</source>
            <translation>was das Element ist</translation>
        </message>
        <message>
            <source>what is seen, and what is missing</source>
            <translation>was zu sehen ist, und was fehlt</translation>
        </message>
        <message>
            <source>name of the design</source>
            <translation>Name des Entwurfs</translation>
        </message>
        <message>
            <source>such as tavern-leg</source>
            <translation>etwa wirtshaus-bein</translation>
        </message>
        <message>
            <source>what it becomes</source>
            <translation>was es wird</translation>
        </message>
        <message>
            <source>as its ends look</source>
            <translation>wie die Enden aussehen</translation>
        </message>
        <message>
            <source>in place of one that is there</source>
            <translation>anstelle eines vorhandenen</translation>
        </message>
        <message>
            <source>&amp;Keep as a design of the house</source>
            <translation>Als Entwurf des &amp;Hauses behalten</translation>
        </message>
        <message>
            <source>&amp;name</source>
            <translation>&amp;Name</translation>
        </message>
        <message>
            <source>&amp;becomes</source>
            <translation>&amp;wird</translation>
        </message>
        <message>
            <source>&amp;Readings</source>
            <translation>&amp;Messungen</translation>
        </message>
        <message>
            <source>&amp;Open readings, a drawing or a scan …</source>
            <translation>Messungen, Zeichnung oder Scan ö&amp;ffnen …</translation>
        </message>
        <message>
            <source>&amp;Save the readings …</source>
            <translation>Die Messungen &amp;speichern …</translation>
        </message>
        <message>
            <source>&amp;Undo</source>
            <translation>&amp;Rückgängig</translation>
        </message>
        <message>
            <source>&amp;Redo</source>
            <translation>&amp;Wiederholen</translation>
        </message>
        <message>
            <source>&amp;Copy	Ctrl+C</source>
            <translation>&amp;Kopieren	Strg+C</translation>
        </message>
        <message>
            <source>&amp;Paste	Ctrl+V</source>
            <translation>&amp;Einfügen	Strg+V</translation>
        </message>
        <message>
            <source>C&amp;lear cells	Del</source>
            <translation>Zellen &amp;leeren	Entf</translation>
        </message>
        <message>
            <source>&amp;Take rows out	Ctrl+Del</source>
            <translation>Zeilen heraus&amp;nehmen	Strg+Entf</translation>
        </message>
        <message>
            <source>&amp;Hold a finished copy against a design …</source>
            <translation>Eine fertige Kopie &amp;gegen einen Entwurf halten …</translation>
        </message>
        <message>
            <source>Close</source>
            <translation>Schließen</translation>
        </message>
        <message>
            <source>&amp;Elements</source>
            <translation>&amp;Elemente</translation>
        </message>
        <message>
            <source>The &amp;whole piece</source>
            <translation>Das &amp;ganze Stück</translation>
        </message>
        <message>
            <source>readings typed in</source>
            <translation>eingetippte Messungen</translation>
        </message>
        <message>
            <source>kept as %1, a %2; read back, it lies %3 mm off what is drawn above (root of the mean square)</source>
            <translation>behalten als %1, %2; zurückgelesen liegt es %3 mm neben dem oben Gezeichneten (Wurzel aus dem mittleren Quadrat)</translation>
        </message>
        <message>
            <source>Not opened</source>
            <translation>Nicht geöffnet</translation>
        </message>
        <message>
            <source>Open readings, a drawing or a scan</source>
            <translation>Messungen, Zeichnung oder Scan öffnen</translation>
        </message>
        <message>
            <source>readings, drawings and scans (*.csv *.txt *.dxf *.svg *.stl)</source>
            <translation>Messungen, Zeichnungen und Scans (*.csv *.txt *.dxf *.svg *.stl)</translation>
        </message>
        <message>
            <source>Not saved</source>
            <translation>Nicht gespeichert</translation>
        </message>
        <message>
            <source>Save the readings</source>
            <translation>Die Messungen speichern</translation>
        </message>
        <message>
            <source>readings (*.csv)</source>
            <translation>Messungen (*.csv)</translation>
        </message>
        <message>
            <source>Hold a finished copy against a design</source>
            <translation>Eine fertige Kopie gegen einen Entwurf halten</translation>
        </message>
        <message>
            <source>The readings were taken of a copy of this design:</source>
            <translation>Die Messungen stammen von einer Kopie dieses Entwurfs:</translation>
        </message>
        <message>
            <source>Save the readings?</source>
            <translation>Die Messungen speichern?</translation>
        </message>
        <message>
            <source>The readings are not saved.</source>
            <translation>Die Messungen sind nicht gespeichert.</translation>
        </message>
        <message>
            <source>is a …</source>
            <translation>ist …</translation>
        </message>
        <message>
            <source>squares are wide</source>
            <translation>Breite der Vierkante</translation>
        </message>
        <message>
            <source>write how wide above the table, or a reading across the flats with the note 'square'</source>
            <translation>die Breite über der Tabelle angeben, oder eine Messung über die Flächen mit der Notiz 'square'</translation>
        </message>
        <message>
            <source>choose its unit above</source>
            <translation>oben die Einheit wählen</translation>
        </message>
        <message>
            <source>row %1: %2</source>
            <translation>Zeile %1: %2</translation>
        </message>
        <message>
            <source>%1 long; %2 readings on %3 elements, %4 mm off (root of the mean square), %5 mm at worst</source>
            <translation>%1 lang; %2 Messungen auf %3 Elementen, %4 mm daneben (Wurzel aus dem mittleren Quadrat), schlimmstens %5 mm</translation>
        </message>
        <message>
            <source>✗ believed wrong: the reading at %1, %2 mm off</source>
            <translation>✗ wohl falsch: die Messung bei %1, %2 mm daneben</translation>
        </message>
        <message>
            <source>elements %1 to %2 stand the same way about their middle</source>
            <translation>Elemente %1 bis %2 stehen zu ihrer Mitte gespiegelt gleich</translation>
        </message>
        <message>
            <source>oval: two diameters at %1 differ by %2 mm; the outline has their mean, as new it was hardly thinner than the greater</source>
            <translation>oval: zwei Durchmesser bei %1 unterscheiden sich um %2 mm; der Umriss hat ihr Mittel, neu war es kaum dünner als der größere</translation>
        </message>
        <message>
            <source>worn: %1 mm in diameter below the outline at %2; the outline is the guess of how it was new</source>
            <translation>abgenutzt: %1 mm im Durchmesser unter dem Umriss bei %2; der Umriss ist die Vermutung, wie es neu war</translation>
        </message>
        <message>
            <source>the readings lie %1 times as far off as their uncertainty says: write a larger one above the table, or take more readings</source>
            <translation>die Messungen liegen %1-mal so weit daneben, wie ihre Unsicherheit sagt: über der Tabelle eine größere angeben oder mehr messen</translation>
        </message>
        <message>
            <source>%1 to %2</source>
            <translation>%1 bis %2</translation>
        </message>
        <message>
            <source>? more readings would settle most at %1: %2</source>
            <translation>? mehr Messungen klärten am meisten bei %1: %2</translation>
        </message>
        <message>
            <source>fitting …</source>
            <translation>wird angepasst …</translation>
        </message>
        <message>
            <source>Type a reading in each row: where along the piece, and the diameter there. Note 'square to here' where a square ends, 'square' on a reading across its flats, 'head' and 'foot' at the ends; a note offers its words while it is typed. Or paste from a spreadsheet, or open a file of readings, a drawing (DXF, SVG) or a scan (STL).</source>
            <translation>In jede Zeile eine Messung tippen: wo am Stück, und der Durchmesser dort. 'square to here' notieren, wo ein Vierkant endet, 'square' bei einer Messung über seine Flächen, 'head' und 'foot' an Kopf und Fuß; die Notiz bietet beim Tippen ihre Wörter an. Oder aus einer Tabellenkalkulation einfügen, oder eine Datei mit Messungen, eine Zeichnung (DXF, SVG) oder einen Scan (STL) öffnen.</translation>
        </message>
        <message>
            <source>the copy against '%1': %2 places; mean %3 mm, root of the mean square %4 mm, most %5 mm at %6 from the head (above 0: wood was left)</source>
            <translation>die Kopie gegen '%1': %2 Stellen; Mittel %3 mm, Wurzel aus dem mittleren Quadrat %4 mm, am meisten %5 mm bei %6 vom Kopf (über 0: Holz blieb stehen)</translation>
        </message>
        <message>
            <source>Take them</source>
            <translation>Übernehmen</translation>
        </message>
        <message>
            <source>Throw them away</source>
            <translation>Wegwerfen</translation>
        </message>
        <message>
            <source>The last session ended with readings that were not saved, %1 rows of them.</source>
            <translation>Die letzte Sitzung endete mit Messungen, die nicht gesichert waren, %1 Zeilen.</translation>
        </message>
        <message>
            <source>no copy of the unsaved readings could be kept: %1</source>
            <translation>eine Kopie der ungesicherten Messungen ließ sich nicht ablegen: %1</translation>
        </message>
        <message>
            <source>Unsaved readings of the last session cannot be read. What is left of them is kept as %1</source>
            <translation>Ungesicherte Messungen der letzten Sitzung sind nicht lesbar. Was davon übrig ist, liegt unter %1</translation>
        </message>
        <message>
            <source>readings of the last session</source>
            <translation>Messungen der letzten Sitzung</translation>
        </message>
        <message>
            <source>the reading there lies %1 mm off: take it again</source>
            <translation>die Messung dort liegt %1 mm daneben: noch einmal messen</translation>
        </message>
        <message>
            <source>but for the reading there this could be straight (%1): take it again, and another beside it</source>
            <translation>ohne die Messung dort könnte es gerade sein (%1): noch einmal messen, und eine daneben</translation>
        </message>
        <message>
            <source>%1: readings %2, sizes of its own %3</source>
            <translation>%1: Messungen %2, eigene Größen %3</translation>
        </message>
        <message>
            <source>where it ends (%1) is known to %2 mm only</source>
            <translation>das Ende (%1) ist nur auf %2 mm bekannt</translation>
        </message>
        <message>
            <source>%1; could as well be: %2</source>
            <translation>%1; könnte ebenso gut sein: %2</translation>
        </message>
    </context>
</TS>