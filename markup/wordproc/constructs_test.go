package wordproc

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// wp and op are a paragraph of text in either format.
func wp(runs string) string { return `<w:p>` + wr(runs) + `</w:p>` }
func wr(text string) string { return `<w:r><w:t xml:space="preserve">` + text + `</w:t></w:r>` }
func ws(props, text string) string {
	return `<w:r><w:rPr>` + props + `</w:rPr><w:t xml:space="preserve">` + text + `</w:t></w:r>`
}
func wpp(props, text string) string { return `<w:p><w:pPr>` + props + `</w:pPr>` + wr(text) + `</w:p>` }
func op(text string) string         { return `<text:p>` + text + `</text:p>` }
func ops(style, text string) string {
	return `<text:p text:style-name="` + style + `">` + text + `</text:p>`
}
func osp(style, text string) string {
	return `<text:span text:style-name="` + style + `">` + text + `</text:span>`
}

const (
	wHead      = `<w:p><w:pPr><w:pStyle w:val="H1"/></w:pPr><w:r><w:t>Ebb</w:t></w:r></w:p>`
	oHead      = `<text:h text:style-name="Heading_20_1" text:outline-level="1">Ebb</text:h>`
	chapterEbb = "== chapters/01-ebb.md\n# Ebb\n\n"
)

// filler is text enough that the rest stands out from it.
const filler = "The clerk of the tides kept his window until the light had gone out of the harbour, and then a little longer."

// A construct of the standards, in both formats, and what the chapters say.
var constructs = []struct {
	name     string
	wml, odt string
	parts    []part // of the WordprocessingML package
	odtParts []part // of that of OpenDocument
	want     string // behind the heading of the chapter
	finding  string // a part of what is listed
	apart    string // other readers: "seen", they take what nobody sees for text; "order", they have a text box where it hangs
}{
	{name: "text", wml: wp("Low water."), odt: op("Low water."), want: "Low water.\n"},
	{name: "emphasis", wml: `<w:p>` + wr("It is ") + ws(`<w:i/>`, "late") + wr(".") + `</w:p>`, odt: op("It is " + osp("T1", "late") + "."), want: "It is *late*.\n"},
	{name: "emphasis by a style", wml: `<w:p>` + wr("It is ") + ws(`<w:rStyle w:val="Emph"/>`, "late") + wr(".") + `</w:p>`, odt: op("It is " + osp("Emphasis", "late") + "."), want: "It is *late*.\n"},
	{name: "emphasis switched off", wml: `<w:p>` + wr("It is ") + ws(`<w:i w:val="0"/>`, "late") + wr(".") + `</w:p>`, odt: op("It is " + osp("T12", "late") + "."), want: "It is late.\n"},
	{name: "emphasis within a word", wml: `<w:p>` + wr("un") + ws(`<w:i/>`, "believ") + wr("able") + `</w:p>`, odt: op("un" + osp("T1", "believ") + "able"), want: "un*believ*able\n"},
	{name: "emphasis with spaces at its ends", wml: `<w:p>` + wr("It is") + ws(`<w:i/>`, " late, ") + wr("he said.") + `</w:p>`, odt: op("It is" + osp("T1", " late, ") + "he said."), want: "It is *late,* he said.\n"},
	{name: "strong", wml: `<w:p>` + ws(`<w:b/>`, "Keep out") + wr(" of it.") + `</w:p>`, odt: op(osp("T2", "Keep out") + " of it."), want: "**Keep out** of it.\n"},
	{name: "strong emphasis", wml: `<w:p>` + ws(`<w:b/><w:i/>`, "Keep out") + wr(" of it.") + `</w:p>`, odt: op(osp("T10", "Keep out") + " of it."), want: "***Keep out*** of it.\n"},
	{name: "emphasis beside strong", wml: `<w:p>` + ws(`<w:i/>`, "one") + ws(`<w:b/>`, "two") + wr(".") + `</w:p>`, odt: op(osp("T1", "one") + osp("T2", "two") + "."), want: "*one*<!-- -->**two**.\n"},
	{name: "a mark that would make a picture", wml: `<w:p>` + wr(`Ho\!`) + ws(`<w:smallCaps/>`, "Upon") + wr("!") + ws(`<w:smallCaps/>`, "it") + `</w:p>`, odt: op(`Ho\!` + osp("T3", "Upon") + "!" + osp("T3", "it")), want: `Ho\\&#33;[Upon]{.caps}&#33;[it]{.caps}` + "\n"},
	{name: "small capitals", wml: `<w:p>` + ws(`<w:smallCaps/>`, "Upon the quay") + wr(" it rained.") + `</w:p>`, odt: op(osp("T3", "Upon the quay") + " it rained."), want: "[Upon the quay]{.caps} it rained.\n"},
	{name: "capitals by format", wml: `<w:p>` + wr("He said ") + ws(`<w:caps/>`, "no") + wr(".") + `</w:p>`, odt: op("He said " + osp("T7", "no") + "."), want: "He said [no]{.caps}.\n", finding: changedCapitals},
	{name: "underline", wml: `<w:p>` + wr("He said ") + ws(`<w:u w:val="single"/>`, "no") + wr(".") + `</w:p>`, odt: op("He said " + osp("T4", "no") + "."), want: "He said *no*.\n", finding: changedUnderline + ": no"},
	{name: "superscript letters", wml: `<w:p>` + wr("the 1") + ws(`<w:vertAlign w:val="superscript"/>`, "st") + wr(" of May") + `</w:p>`, odt: op("the 1" + osp("T5", "st") + " of May"), want: "the 1[st]{.raised} of May\n"},
	{name: "superscript figures", wml: `<w:p>` + wr("10") + ws(`<w:vertAlign w:val="superscript"/>`, "12") + wr(" drops") + `</w:p>`, odt: op("10" + osp("T5", "12") + " drops"), want: "10[12]{.raised} drops\n"},
	{name: "subscript", wml: `<w:p>` + wr("H") + ws(`<w:vertAlign w:val="subscript"/>`, "2") + wr("O") + `</w:p>`, odt: op("H" + osp("T6", "2") + "O"), want: "H[2]{.lowered}O\n"},
	{name: "struck text", wml: `<w:p>` + wr("a ") + ws(`<w:strike/>`, "lost") + wr(" word") + `</w:p>`, odt: op("a " + osp("T11", "lost") + " word"), want: "a lost word\n", finding: changedStruck},
	{name: "hidden text", apart: "seen", wml: `<w:p>` + wr("seen") + ws(`<w:vanish/>`, " unseen") + `</w:p>`, odt: op("seen" + osp("T9", " unseen")), want: "seen\n", finding: KindHidden + ": unseen"},
	{name: "another language", wml: `<w:p>` + wr("a cold ") + ws(`<w:lang w:val="fr-FR"/>`, "soufflé") + wr(" for the keeper of the light") + `</w:p>`, odt: op("a cold " + osp("T8", "soufflé") + " for the keeper of the light"), want: "a cold [soufflé]{lang=fr-FR} for the keeper of the light\n"},
	{name: "line break", wml: `<w:p><w:r><w:t>Yours,</w:t><w:br/><w:t>T. Clerk</w:t></w:r></w:p>`, odt: op(`Yours,<text:line-break/>T. Clerk`), want: "Yours,\\\nT. Clerk\n"},
	{name: "paragraphs ended by hand", wml: `<w:p><w:r><w:t>` + filler + `</w:t><w:br/><w:t>` + filler + `</w:t><w:br/><w:t>Slack.</w:t><w:br/><w:br/><w:t>` + filler + `</w:t></w:r></w:p>`, odt: op(filler + `<text:line-break/>` + filler + `<text:line-break/>Slack.<text:line-break/><text:line-break/>` + filler), want: filler + "\n\n" + filler + "\n\nSlack.\n\n* * *\n\n" + filler + "\n"},
	{name: "two line breaks part paragraphs", wml: `<w:p><w:r><w:t>One.</w:t><w:br/><w:br/><w:t>Two.</w:t></w:r></w:p>`, odt: op(`One.<text:line-break/><text:line-break/>Two.`), want: "One.\n\nTwo.\n"},
	{name: "tab as an indent", wml: `<w:p><w:r><w:tab/><w:t>Low water.</w:t></w:r></w:p>`, odt: op(`<text:tab/>Low water.`), want: "Low water.\n"},
	{name: "spaces as an indent", wml: wp("     Low  water."), odt: op(`<text:s text:c="5"/>Low <text:s/>water.`), want: "Low water.\n"},
	{name: "tab inside", wml: `<w:p><w:r><w:t>Low</w:t><w:tab/><w:t>5.29</w:t></w:r></w:p>`, odt: op(`Low<text:tab/>5.29`), want: "Low 5.29\n"},
	{name: "no-break space", wml: wp("No.\u00A07"), odt: op("No.\u00A07"), want: "No.&nbsp;7\n"},
	{name: "soft hyphen", wml: `<w:p><w:r><w:t>tide</w:t><w:softHyphen/><w:t>clerk</w:t></w:r></w:p>`, odt: op("tide\u00ADclerk"), want: "tide&shy;clerk\n"},
	{name: "no-break hyphen", wml: `<w:p><w:r><w:t>tide</w:t><w:noBreakHyphen/><w:t>clerk</w:t></w:r></w:p>`, odt: op("tide\u2011clerk"), want: "tide\u2011clerk\n"},
	{name: "typographer's marks", wml: wp("“’Twas late,” she said, ‘perhaps’."), odt: op("“’Twas late,” she said, ‘perhaps’."), want: "“’Twas late,” she said, ‘perhaps’.\n"},
	{name: "straight marks", wml: wp("&quot;'Twas late,&quot; she said."), odt: op("&quot;'Twas late,&quot; she said."), want: "\"'Twas late,\" she said.\n"},
	{name: "a wrong mark before an elision", wml: wp("“‘Twas late,” she said."), odt: op("“‘Twas late,” she said."), want: "“’Twas late,” she said.\n", finding: changedMarks},
	{name: "signs of Markdown", wml: wp("*a* _b_ [c](d) &lt;e&gt; `f` \\g &amp;amp; h | i"), odt: op("*a* _b_ [c](d) &lt;e&gt; `f` \\g &amp;amp; h | i"),
		want: `\*a\* \_b\_ \[c\](d) \<e> ` + "\\`f\\`" + ` \\g &amp;amp; h \| i` + "\n"},
	{name: "a number at the beginning", wml: wp("1. No list."), odt: op("1. No list."), want: "1\\. No list.\n"},
	{name: "a hyphen at the beginning", wml: wp("- No list."), odt: op("- No list."), want: "\\- No list.\n"},
	{name: "a hash at the beginning", wml: wp("#7 was shut."), odt: op("#7 was shut."), want: "\\#7 was shut.\n"},
	{name: "an angle at the beginning", wml: wp("&gt; No quotation."), odt: op("&gt; No quotation."), want: "\\> No quotation.\n"},
	{name: "footnote", wml: `<w:p>` + wr("Past ten") + `<w:r><w:footnoteReference w:id="2"/></w:r>` + wr(".") + `</w:p>`,
		parts: []part{{"word/footnotes.xml", `<w:footnotes ` + wmlNames + `><w:footnote w:type="separator" w:id="0"><w:p><w:r><w:separator/></w:r></w:p></w:footnote><w:footnote w:id="2"><w:p><w:r><w:footnoteRef/></w:r>` + wr(" By the ") + ws(`<w:i/>`, "old") + wr(" clock.") + `</w:p></w:footnote></w:footnotes>`}},
		odt:   op(`Past ten<text:note text:note-class="footnote"><text:note-citation>1</text:note-citation><text:note-body><text:p>By the ` + osp("T1", "old") + ` clock.</text:p></text:note-body></text:note>.`),
		want:  "Past ten[^1].\n\n[^1]: By the *old* clock.\n"},
	{name: "endnote of two paragraphs", wml: `<w:p>` + wr("Past ten") + `<w:r><w:endnoteReference w:id="1"/></w:r></w:p>`,
		parts: []part{{"word/endnotes.xml", `<w:endnotes ` + wmlNames + `><w:endnote w:id="1">` + wp("One.") + wp("Two.") + `</w:endnote></w:endnotes>`}},
		odt:   op(`Past ten<text:note text:note-class="endnote"><text:note-citation>i</text:note-citation><text:note-body><text:p>One.</text:p><text:p>Two.</text:p></text:note-body></text:note>`),
		want:  "Past ten[^1]\n\n[^1]: One.\n\n    Two.\n"},
	{name: "an author's mark of a note", wml: `<w:p>` + wr("Past ten") + `<w:r><w:footnoteReference w:customMarkFollows="1" w:id="2"/><w:t>*</w:t></w:r></w:p>`,
		parts: []part{{"word/footnotes.xml", `<w:footnotes ` + wmlNames + `><w:footnote w:id="2">` + wp("Noted.") + `</w:footnote></w:footnotes>`}},
		odt:   op(`Past ten<text:note text:note-class="footnote"><text:note-citation text:label="*">*</text:note-citation><text:note-body><text:p>Noted.</text:p></text:note-body></text:note>`),
		want:  "Past ten[^1]\n\n[^1]: Noted.\n"},
	{name: "tracked insertion", wml: `<w:p>` + wr("It was ") + `<w:ins w:id="1" w:author="E">` + wr("very ") + `</w:ins>` + wr("late.") + `</w:p>`,
		odt:  `<text:tracked-changes><text:changed-region text:id="c1"><text:insertion><office:change-info><dc:creator>E</dc:creator></office:change-info></text:insertion></text:changed-region></text:tracked-changes>` + op(`It was <text:change-start text:change-id="c1"/>very <text:change-end text:change-id="c1"/>late.`),
		want: "It was very late.\n", finding: KindInsertion},
	{name: "tracked deletion", wml: `<w:p>` + wr("It was ") + `<w:del w:id="1" w:author="E"><w:r><w:delText>never </w:delText></w:r></w:del>` + wr("late.") + `</w:p>`,
		odt:  `<text:tracked-changes><text:changed-region text:id="c1"><text:deletion><office:change-info><dc:creator>E</dc:creator></office:change-info><text:p>never </text:p></text:deletion></text:changed-region></text:tracked-changes>` + op(`It was <text:change text:change-id="c1"/>late.`),
		want: "It was late.\n", finding: KindDeletion + ": never"},
	{name: "a paragraph deleted as a whole", wml: wp("One.") + `<w:p><w:del w:id="1" w:author="E"><w:r><w:delText>***</w:delText></w:r></w:del></w:p>` + wp("Two."), odt: op("One.") + op("Two."), want: "One.\n\nTwo.\n"},
	{name: "a deleted end of a paragraph", wml: `<w:p><w:pPr><w:rPr><w:del w:id="1" w:author="E"/></w:rPr></w:pPr>` + wr("It was ") + `</w:p>` + wp("late."),
		odt: op("It was late."), want: "It was late.\n"},
	{name: "a large first letter", wml: `<w:p><w:pPr><w:framePr w:dropCap="drop" w:lines="3"/></w:pPr>` + ws(`<w:sz w:val="96"/>`, "T") + `</w:p>` + wp("he clerk came."), odt: op("The clerk came."), want: "The clerk came.\n"},
	{name: "comment", wml: `<w:p><w:commentRangeStart w:id="0"/>` + wr("Late.") + `<w:commentRangeEnd w:id="0"/><w:r><w:commentReference w:id="0"/></w:r></w:p>`,
		parts: []part{{"word/comments.xml", `<w:comments ` + wmlNames + `><w:comment w:id="0" w:author="E">` + wp("Is it?") + `</w:comment></w:comments>`}},
		odt:   op(`Late.<office:annotation><dc:creator>E</dc:creator><text:p>Is it?</text:p></office:annotation>`), want: "Late.\n", finding: KindComment + ": Is it?"},
	{name: "a field", wml: `<w:p>` + wr("See page ") + `<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> PAGEREF x </w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r>` + wr("12") + `<w:r><w:fldChar w:fldCharType="end"/></w:r>` + wr(".") + `</w:p>`,
		odt: op(`See page <text:bookmark-ref text:ref-name="x" text:reference-format="page">12</text:bookmark-ref>.`), want: "See page 12.\n", finding: KindField},
	{name: "a simple field", wml: `<w:p>` + wr("By ") + `<w:fldSimple w:instr=" AUTHOR ">` + wr("a clerk") + `</w:fldSimple></w:p>`,
		odt: op(`By <text:author-name>a clerk</text:author-name>`), want: "By a clerk\n", finding: KindField},
	{name: "a link", wml: `<w:p>` + wr("See ") + `<w:hyperlink r:id="l">` + wr("our page") + `</w:hyperlink>.</w:p>`,
		odt: op(`See <text:a xlink:href="https://tides.example/">our page</text:a>`), want: "See [our page](<https://tides.example/>)\n"},
	{name: "a link inside the document", wml: `<w:p>` + wr("See ") + `<w:hyperlink w:anchor="b">` + wr("below") + `</w:hyperlink></w:p>`,
		odt: op(`See <text:a xlink:href="#b">below</text:a>`), want: "See below\n"},
	{name: "text box", apart: "order", wml: `<w:p>` + wr("Before.") + `<w:r><mc:AlternateContent><mc:Choice Requires="x"><w:drawing><wp:anchor><a:graphic><w:txbxContent>` + wp("In the box.") + `</w:txbxContent></a:graphic></wp:anchor></w:drawing></mc:Choice><mc:Fallback><w:pict><v:shape><v:textbox><w:txbxContent>` + wp("In the box.") + `</w:txbxContent></v:textbox></v:shape></w:pict></mc:Fallback></mc:AlternateContent></w:r>` + wr(" After.") + `</w:p>`,
		odt: op(`Before.<draw:frame><draw:text-box><text:p>In the box.</text:p></draw:text-box></draw:frame> After.`), want: "Before. After.\n\n> In the box.\n"},
	{name: "picture", wml: wp(filler) + `<w:p><w:r><w:drawing><wp:inline><wp:extent cx="2743200" cy="2743200"/><wp:docPr id="1" name="p" descr="A dial"/><a:graphic><a:graphicData><pic:pic><pic:blipFill><a:blip r:embed="p"/></pic:blipFill></pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r></w:p>`,
		odt:  op(filler) + op(`<draw:frame svg:width="3in" svg:height="3in"><draw:image xlink:href="Pictures/dial.png"/><svg:desc>A dial</svg:desc></draw:frame>`),
		want: filler + "\n\n![A dial](../pictures/01-a-dial.png){width=46%}\n"},
	{name: "picture with a caption", wml: `<w:p><w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="A dial"/><a:blip r:embed="p"/></wp:inline></w:drawing></w:r></w:p>` + wpp(`<w:pStyle w:val="Caption"/>`, "The &quot;great&quot; dial"),
		odt:  op(`<draw:frame><draw:image xlink:href="Pictures/dial.png"/><svg:desc>A dial</svg:desc></draw:frame>`) + ops("Caption", "The &quot;great&quot; dial"),
		want: "![A dial](../pictures/01-a-dial.png \"The \\\"great\\\" dial\")\n"},
	{name: "picture that says what it shows in two paragraphs", wml: `<w:p><w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="A dial&#10;&#10;of a clock"/><a:blip r:embed="p"/></wp:inline></w:drawing></w:r></w:p>` + wp(filler),
		odt:  op(`<draw:frame><draw:image xlink:href="Pictures/dial.png"/><svg:desc>A dial&#10;&#10;of a&#127; clock</svg:desc></draw:frame>`) + op(filler),
		want: "![A dial of a clock](../pictures/01-a-dial-of-a-clock.png)\n\n" + filler + "\n"},
	{name: "picture in a line of text", wml: `<w:p>` + wr("Look ") + `<w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="A dial"/><a:blip r:embed="p"/></wp:inline></w:drawing></w:r>` + wr("here.") + `</w:p>`,
		odt: op(`Look <draw:frame><draw:image xlink:href="Pictures/dial.png"/><svg:desc>A dial</svg:desc></draw:frame>here.`), want: "Look here.\n\n![A dial](../pictures/01-a-dial.png)\n"},
	{name: "picture outside", wml: `<w:p>` + wr("Look.") + `<w:r><w:drawing><a:blip r:link="x"/></w:drawing></w:r></w:p>`,
		odt: op(`Look.<draw:frame><draw:image xlink:href="file:///etc/passwd"/></draw:frame>`), want: "Look.\n", finding: KindPicture + ": it lies outside the document: file:///etc/passwd"},
	{name: "table", wml: `<w:tbl><w:tr><w:trPr><w:tblHeader/></w:trPr><w:tc>` + wp("Place") + `</w:tc><w:tc>` + wp("Hour") + `</w:tc></w:tr><w:tr><w:tc>` + wp("Pier | quay") + `</w:tc><w:tc>` + wpp(`<w:jc w:val="right"/>`, "5.29") + `</w:tc></w:tr></w:tbl>` + wp(""),
		odt:  `<table:table><table:table-header-rows><table:table-row><table:table-cell>` + op("Place") + `</table:table-cell><table:table-cell>` + op("Hour") + `</table:table-cell></table:table-row></table:table-header-rows><table:table-row><table:table-cell>` + op("Pier | quay") + `</table:table-cell><table:table-cell>` + ops("P7", "5.29") + `</table:table-cell></table:table-row></table:table>`,
		want: "| Place | Hour |\n| :-- | --: |\n| Pier \\| quay | 5.29 |\n"},
	{name: "table without a head, with a wide cell", wml: `<w:tbl><w:tr><w:tc><w:tcPr><w:gridSpan w:val="2"/></w:tcPr>` + wp("Both") + `</w:tc></w:tr><w:tr><w:tc>` + wp("a") + `</w:tc><w:tc>` + wp("b") + `</w:tc></w:tr></w:tbl>`,
		odt:  `<table:table><table:table-row><table:table-cell table:number-columns-spanned="2">` + op("Both") + `</table:table-cell><table:covered-table-cell/></table:table-row><table:table-row><table:table-cell>` + op("a") + `</table:table-cell><table:table-cell>` + op("b") + `</table:table-cell></table:table-row></table:table>`,
		want: "|  |  |\n| :-- | :-- |\n| Both |  |\n| a | b |\n"},
	{name: "table of one cell", wml: `<w:tbl><w:tr><w:tc>` + wp("To whom it may concern.") + `</w:tc></w:tr></w:tbl>`,
		odt: `<table:table><table:table-row><table:table-cell>` + op("To whom it may concern.") + `</table:table-cell></table:table-row></table:table>`, want: "> To whom it may concern.\n"},
	{name: "numbered list with marks below", wml: wpp(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>`, "One") + wpp(`<w:numPr><w:ilvl w:val="1"/><w:numId w:val="1"/></w:numPr>`, "Inner") + wpp(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="1"/></w:numPr>`, "Two"),
		odt:  `<text:list text:style-name="L1"><text:list-item><text:p>One</text:p><text:list><text:list-item><text:p>Inner</text:p></text:list-item></text:list></text:list-item><text:list-item><text:p>Two</text:p></text:list-item></text:list>`,
		want: "1. One\n   - Inner\n2. Two\n"},
	{name: "lettered list", wml: wpp(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="4"/></w:numPr>`, "One") + wpp(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="4"/></w:numPr>`, "Two"),
		odt:  `<text:list text:style-name="L3"><text:list-item><text:p>One</text:p></text:list-item><text:list-item><text:p>Two</text:p></text:list-item></text:list>`,
		want: "1. One\n2. Two\n", finding: changedLists + ": a)"},
	{name: "marked list", wml: wpp(`<w:numPr><w:numId w:val="3"/></w:numPr>`, "thread") + wpp(`<w:numPr><w:numId w:val="3"/></w:numPr>`, "needles"),
		odt: `<text:list text:style-name="L2"><text:list-item><text:p>thread</text:p></text:list-item><text:list-item><text:p>needles</text:p></text:list-item></text:list>`, want: "- thread\n- needles\n"},
	{name: "quotation by a style", wml: wp(filler) + wpp(`<w:pStyle w:val="Quote"/>`, "As before, it is low."), odt: op(filler) + ops("Quotations", "As before, it is low."), want: filler + "\n\n> As before, it is low.\n"},
	{name: "quotation by its indents", wml: wp(filler) + wpp(`<w:ind w:left="720" w:right="720"/>`, "As before, it is low.") + wpp(`<w:ind w:left="720" w:right="720"/>`, "And stays so."), odt: op(filler) + ops("P3", "As before, it is low.") + ops("P3", "And stays so."), want: filler + "\n\n> As before, it is low.\n>\n> And stays so.\n"},
	{name: "letter", wml: wp(filler) + wpp(`<w:ind w:left="720" w:right="720"/>`, "Dear Keeper,") + wpp(`<w:ind w:left="720" w:right="720"/>`, "Pray leave the step where it is."), odt: op(filler) + ops("P3", "Dear Keeper,") + ops("P3", "Pray leave the step where it is."),
		want: filler + "\n\n```letter\nDear Keeper,\n\nPray leave the step where it is.\n```\n"},
	{name: "a source at the right, below a quotation", wml: wp(filler) + wpp(`<w:ind w:left="720" w:right="720"/>`, "It is low.") + wpp(`<w:jc w:val="right"/>`, "- Harbor Rules"), odt: op(filler) + ops("P3", "It is low.") + ops("P7", "- Harbor Rules"),
		want: filler + "\n\n> It is low.\n>\n> -- Harbor Rules\n"},
	{name: "a line in the middle", wml: wp(filler) + wpp(`<w:jc w:val="center"/>`, "Keep * out"), odt: op(filler) + ops("P2", "Keep * out"), want: filler + "\n\n```sign\nKeep \\* out\n```\n"},
	{name: "a short line in bold", wml: wp(filler) + `<w:p>` + ws(`<w:b/>`, "3 March") + `</w:p>` + wp("It rained."), odt: op(filler) + op(osp("T2", "3 March")) + op("It rained."), want: filler + "\n\n## 3 March\n\nIt rained.\n"},
	{name: "a date in bold below the heading", wml: `<w:p>` + ws(`<w:b/>`, "3 March") + `</w:p>` + wp(filler), odt: op(osp("T2", "3 March")) + op(filler), want: "*3 March*\n\n" + filler + "\n"},
	{name: "speech in italics below a heading", wml: `<w:p>` + ws(`<w:i/>`, "It is low.") + `</w:p><w:p>` + ws(`<w:i/>`, "— Is it?") + `</w:p>` + wp(filler), odt: op(osp("T1", "It is low.")) + op(osp("T1", "— Is it?")) + op(filler), want: "*It is low.*\n\n*— Is it?*\n\n" + filler + "\n"},
	{name: "speech in bold", wml: wp(filler) + `<w:p>` + ws(`<w:b/>`, "Where") + `</w:p><w:p>` + ws(`<w:b/>`, "On the boat") + `</w:p>` + wp("It rained."), odt: op(filler) + op(osp("T2", "Where")) + op(osp("T2", "On the boat")) + op("It rained."), want: filler + "\n\n**Where**\n\n**On the boat**\n\nIt rained.\n"},
	{name: "the head of a message", wml: wp(filler) + `<w:p><w:r><w:t>From: the office</w:t><w:br/><w:t>To: all crews</w:t><w:br/><w:t>Subject: tides</w:t></w:r></w:p>` + wp("It rained."), odt: op(filler) + op(`From: the office<text:line-break/>To: all crews<text:line-break/>Subject: tides`) + op("It rained."),
		want: filler + "\n\n> From: the office\\\n> To: all crews\\\n> Subject: tides\n\nIt rained.\n"},
	{name: "place and date at the right", wml: wpp(`<w:jc w:val="right"/>`, "Skerrow, 3 March") + wp(filler), odt: ops("P7", "Skerrow, 3 March") + op(filler), want: "*Skerrow, 3 March*\n\n" + filler + "\n"},
	{name: "verse by a style", wml: wpp(`<w:pStyle w:val="Verse"/>`, "Clerk in the window,") + wpp(`<w:pStyle w:val="Verse"/>`, "what do you say?"), odt: ops("Verse", "Clerk in the window,") + ops("Verse", "what do you say?"), want: "```verse\nClerk in the window,\nwhat do you say?\n```\n"},
	{name: "verse by its line ends", wml: wp(filler) + `<w:p><w:pPr><w:jc w:val="center"/></w:pPr><w:r><w:t>Clerk in the window,</w:t><w:br/><w:t>what do you say?</w:t><w:br/><w:t>It wants an hour</w:t></w:r></w:p>`, odt: op(filler) + ops("P2", `Clerk in the window,<text:line-break/>what do you say?<text:line-break/>It wants an hour`),
		want: filler + "\n\n```verse\nClerk in the window,\nwhat do you say?\nIt wants an hour\n```\n"},
	{name: "verse by a paragraph a line", wml: wp(filler) + wpp(`<w:ind w:left="720" w:right="720"/>`, "Clerk in the window,") + wpp(`<w:ind w:left="1080" w:right="720"/>`, "what do you say?") + wp("") + wpp(`<w:ind w:left="720" w:right="720"/>`, "It wants an hour"),
		odt:  op(filler) + ops("P3", "Clerk in the window,") + ops("P8", "what do you say?") + op("") + ops("P3", "It wants an hour"),
		want: filler + "\n\n```verse\nClerk in the window,\n   what do you say?\n\nIt wants an hour\n```\n"},
	{name: "scene break of asterisks", wml: wp("One.") + wpp(`<w:jc w:val="center"/>`, "* * *") + wp("Two."), odt: op("One.") + ops("P2", "* * *") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n"},
	{name: "scene break of a hash", wml: wp("One.") + wp("#") + wp("Two."), odt: op("One.") + op("#") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n"},
	{name: "scene break of letters", wml: wp("One.") + wpp(`<w:jc w:val="center"/>`, "~oOo~") + wp("Two."), odt: op("One.") + ops("P2", "~oOo~") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n", finding: "ornaments made of letters"},
	{name: "scene break of a point", wml: wp("One.") + wpp(`<w:jc w:val="center"/>`, ".") + wp("Two."), odt: op("One.") + ops("P2", ".") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n"},
	{name: "no scene at the end", wml: wp("One.") + wp("Two.") + wp("") + wp("The End"), odt: op("One.") + op("Two.") + op("") + op("The End"), want: "One.\n\nTwo.\n\n```sign\nThe End\n```\n"},
	{name: "no scene below a line that stands alone", wml: wp("Harwich") + wp("") + wp("One was here.") + wp("Two."), odt: op("Harwich") + op("") + op("One was here.") + op("Two."), want: "*Harwich*\n\nOne was here.\n\nTwo.\n"},
	{name: "letterspaced words", wml: `<w:p>` + wr("It is ") + ws(`<w:spacing w:val="40"/>`, "not") + wr(" so") + ws(`<w:spacing w:val="4"/>`, " far") + wr(".") + `</w:p>`, odt: op("It is " + osp("T15", "not") + " so" + osp("T16", " far") + "."), want: "It is *not* so far.\n", finding: changedSpaced + ": not"},
	{name: "a line of italics in the middle", wml: wp("He read it.") + `<w:p><w:pPr><w:jc w:val="center"/></w:pPr>` + ws(`<w:i/>`, "Keep out") + `</w:p>` + wp("He went in."), odt: op("He read it.") + ops("P2", osp("T1", "Keep out")) + op("He went in."), want: "He read it.\n\n```sign\n*Keep out*\n```\n\nHe went in.\n"},
	{name: "scene break of a long rule of signs", wml: wp("One.") + wp("-----------------------") + wp("Two."), odt: op("One.") + op("-----------------------") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n"},
	{name: "scene break of an empty line", wml: wp("One.") + wp("Two.") + wp("") + wp("Three."), odt: op("One.") + op("Two.") + op("") + op("Three."), want: "One.\n\nTwo.\n\n* * *\n\nThree.\n"},
	{name: "no scene breaks where empty lines part paragraphs", wml: wp("One.") + wp("") + wp("Two.") + wp("") + wp("Three.") + wp("") + wp("Four.") + wp("") + wp("") + wp("Five."), odt: op("One.") + op("") + op("Two.") + op("") + op("Three.") + op("") + op("Four.") + op("") + op("") + op("Five."),
		want: "One.\n\nTwo.\n\nThree.\n\nFour.\n\n* * *\n\nFive.\n"},
	{name: "scene break of a drawn line", wml: wp("One.") + `<w:p><w:pPr><w:pBdr><w:bottom w:val="single"/></w:pBdr></w:pPr></w:p>` + wp("Two."), odt: op("One.") + ops("P5", "") + op("Two."), want: "One.\n\n* * *\n\nTwo.\n"},
	{name: "scene break of more space", wml: wp("One.") + wp("Two.") + wpp(`<w:spacing w:before="480"/>`, "Three."), odt: op("One.") + op("Two.") + ops("P6", "Three."), want: "One.\n\nTwo.\n\n* * *\n\nThree.\n"},
	{name: "scene break of a page", wml: wp("One.") + wpp(`<w:pageBreakBefore/>`, "Two, in the same chapter."), odt: op("One.") + ops("P1", "Two, in the same chapter."), want: "One.\n\n* * *\n\nTwo, in the same chapter.\n"},
	{name: "heading inside a chapter", wml: wp("One.") + `<w:p><w:pPr><w:pStyle w:val="H2"/></w:pPr><w:r><w:t>The third of March</w:t></w:r></w:p>` + wp("Two."), odt: op("One.") + `<text:h text:outline-level="2">The third of March</text:h>` + op("Two."), want: "One.\n\n## The third of March\n\nTwo.\n"},
	{name: "section on a new page", wml: wp("One.") + `<w:p><w:pPr><w:sectPr><w:type w:val="continuous"/></w:sectPr></w:pPr>` + wr("Still one.") + `</w:p>` + wp("Two.") + `<w:sectPr><w:type w:val="nextPage"/></w:sectPr>`,
		odt: op("One.") + `<text:section text:name="s">` + op("Still one.") + `</text:section>` + ops("P1", "Two."), want: "One.\n\nStill one.\n\n* * *\n\nTwo.\n"},
	{name: "section without a new page", wml: `<w:p><w:pPr><w:sectPr/></w:pPr>` + wr("One.") + `</w:p>` + wp("Two.") + `<w:sectPr><w:type w:val="continuous"/></w:sectPr>`,
		odt: `<text:section text:name="s">` + op("One.") + `</text:section>` + op("Two."), want: "One.\n\nTwo.\n"},
	{name: "hidden section or moved text", apart: "seen", wml: `<w:p><w:moveFrom w:id="1">` + wr("Gone. ") + `</w:moveFrom>` + wr("One. ") + `<w:moveTo w:id="2">` + wr("Come.") + `</w:moveTo></w:p>`,
		odt: `<text:section text:name="s" text:display="none">` + op("Gone.") + `</text:section>` + op("One. Come."), want: "One. Come.\n"},
	{name: "prompt of an empty field", apart: "seen", wml: `<w:p>` + wr("By ") + `<w:sdt><w:sdtPr><w:showingPlcHdr/></w:sdtPr><w:sdtContent>` + wr("click here") + `</w:sdtContent></w:sdt>` + wr("a clerk.") + `</w:p>`,
		odt: op(`By <text:placeholder text:placeholder-type="text">click here</text:placeholder>a clerk.`), want: "By a clerk.\n", finding: KindPrompt + ": click here"},
	{name: "filled field", wml: `<w:p>` + wr("By ") + `<w:sdt><w:sdtPr/><w:sdtContent>` + wr("a clerk") + `</w:sdtContent></w:sdt></w:p>`,
		odt: op(`By <text:text-input>a clerk</text:text-input>`), want: "By a clerk\n"},
	{name: "header", wml: wp("One."), parts: []part{{"word/header1.xml", `<w:hdr ` + wmlNames + `>` + wp("MARROW / EBB") + `</w:hdr>`}},
		odt: op("One."), odtParts: []part{{"meta.xml", `<office:document-meta ` + odtNames + `><office:master-styles><style:master-page style:name="S"><style:header>` + op("MARROW / EBB") + `</style:header></style:master-page></office:master-styles></office:document-meta>`}},
		want: "One.\n", finding: KindHeader + ": MARROW / EBB"},
	{name: "generated contents", wml: `<w:sdt><w:sdtContent><w:p><w:pPr><w:pStyle w:val="TOC1"/></w:pPr>` + wr("Ebb 1") + `</w:p></w:sdtContent></w:sdt>` + wp("One."), odt: `<text:table-of-content><text:index-body><text:p>Ebb<text:tab/>1</text:p></text:index-body></text:table-of-content>` + op("One."), want: "One.\n", finding: leftContents + ": Ebb 1"},
	{name: "ruby", apart: "seen", wml: `<w:p><w:r><w:ruby><w:rt><w:r><w:t>over</w:t></w:r></w:rt><w:rubyBase><w:r><w:t>under</w:t></w:r></w:rubyBase></w:ruby></w:r></w:p>`, odt: op(`<text:ruby><text:ruby-base>under</text:ruby-base><text:ruby-text>over</text:ruby-text></text:ruby>`), want: "under\n", finding: KindRuby + ": over"},
	{name: "formula", wml: `<w:p>` + wr("so ") + `<m:oMath><m:r><m:t>a+b</m:t></m:r></m:oMath></w:p>`, odt: op(`so <draw:frame><draw:object><math:math><math:mi>a</math:mi><math:mo>+</math:mo><math:mi>b</math:mi></math:math></draw:object></draw:frame>`), want: "so a+b\n", finding: KindFormula},
	{name: "a symbol of a face", wml: `<w:p>` + wr("One ") + `<w:r><w:sym w:font="Signs" w:char="F04A"/></w:r>` + wr(" two.") + `</w:p>`, odt: op("One \uF04A two."), want: "One two.\n", finding: KindSymbol + ": U+F04A"},
	{name: "bytes of an old code page", wml: wp("It\u0092s late."), odt: op("It\u0092s late."), want: "It’s late.\n", finding: KindMended},
	{name: "letters in parts", wml: wp("e\u0301te\u0301"), odt: op("e\u0301te\u0301"), want: "été\n"},
	{name: "page break inside a paragraph", wml: `<w:p><w:r><w:t>One.</w:t><w:br w:type="page"/><w:t>Two follows.</w:t></w:r></w:p>`, odt: op("One.") + ops("P1", "Two follows."), want: "One.\n\n* * *\n\nTwo follows.\n"},
	{name: "an empty document field", wml: `<w:p>` + wr("Kept ") + `<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText>REF</w:instrText></w:r></w:p>` + wp("and what follows."), odt: op("Kept ") + op("and what follows."), want: "Kept\n\nand what follows.\n"},
}

// TestConstructs takes each construct in from both formats. The letters of the
// chapters are those of the document, and what is listed says what was done.
func TestConstructs(t *testing.T) {
	if len(constructs) < 40 {
		t.Fatalf("%d constructs", len(constructs))
	}
	for _, c := range constructs {
		for format, document := range map[string]func() []byte{
			"docx": func() []byte { return docxOf(t, wHead+c.wml, c.parts...) },
			"odt":  func() []byte { return odtOf(t, oHead+c.odt, c.odtParts...) },
		} {
			t.Run(c.name+"/"+format, func(t *testing.T) {
				k := take(t, "ebb."+format, document())
				if diff := cmp.Diff(chapterEbb+c.want, k.text(t)); diff != "" {
					t.Errorf("the chapters (-want +got):\n%s", diff)
				}
				for _, d := range k.compared.Differences {
					t.Errorf("letters differ: %v", d)
				}
				if c.finding != "" && !strings.Contains(k.findings(), c.finding) {
					t.Errorf("%q is not listed:\n%s", c.finding, k.findings())
				}
			})
		}
	}
}
