package markup

import (
	"fmt"
	"slices"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// maxDepth bounds the blocks that are open at once. A quotation counts one, a
// list two: one for itself and one for its item.
const maxDepth = 64

// newParser is CommonMark with notes, tables, attributes and fences that have a
// form, and with dashes and ellipses by goldmark's typographer. Quotation
// marks are ours (see quotes.go): they need the whole paragraph and the
// language.
func newParser() parser.Parser {
	blocks := blockParsers()
	for i, b := range blocks {
		p, ok := b.Value.(parser.BlockParser)
		if !ok {
			continue
		}
		switch p.(type) {
		case indented, headings, underlines, codeFences: // they hold no blocks
		default:
			blocks[i].Value = bounded{p}
		}
	}
	// The extension's own transformer is left out: it drops a note that is
	// never referred to without a word.
	blocks = append(blocks, util.Prioritized(noteBlocks{storied{extension.NewFootnoteBlockParser()}}, 999))
	inlines := append(inlineParsers(),
		util.Prioritized(extension.NewFootnoteParser(), 101),
		typographer())
	return parser.NewParser(
		parser.WithBlockParsers(blocks...),
		parser.WithInlineParsers(inlines...),
		parser.WithParagraphTransformers(paragraphTransformers()...),
		parser.WithASTTransformers(util.Prioritized(extension.NewTableASTTransformer(), 0)),
	)
}

// typographer makes dashes and ellipses.
func typographer() util.PrioritizedValue {
	return util.Prioritized(dashes{extension.NewTypographerParser(extension.WithTypographicSubstitutions(
		map[extension.TypographicPunctuation][]byte{
			extension.EnDash: []byte("–"), extension.EmDash: []byte("—"), extension.Ellipsis: []byte("…"),
			extension.LeftSingleQuote: nil, extension.RightSingleQuote: nil, extension.Apostrophe: nil,
			extension.LeftDoubleQuote: nil, extension.RightDoubleQuote: nil,
			extension.LeftAngleQuote: nil, extension.RightAngleQuote: nil,
		}))}, 9999)
}

// inlineParsers are goldmark's, with spans and attributes.
func inlineParsers() []util.PrioritizedValue {
	inlines := parser.DefaultInlineParsers()
	for i, p := range inlines {
		if p.Priority == linkParser {
			inlines[i].Value = links{p.Value.(parser.InlineParser)}
		}
	}
	return inlines
}

// paragraphTransformers are goldmark's, and its tables.
func paragraphTransformers() []util.PrioritizedValue {
	return append(parser.DefaultParagraphTransformers(), util.Prioritized(extension.NewTableParagraphTransformer(), 200))
}

// The priorities of some of goldmark's parsers, by which they are found among
// its defaults.
const (
	underlined   = 100
	linkParser   = 200
	lists        = 300
	indentedCode = 500
	marked       = 600
	fencedCode   = 700
	paragraphs   = 1000
)

// blockParsers are goldmark's, but for code by indent: what is indented is a
// paragraph. Headings have attributes, and fences forms.
func blockParsers() []util.PrioritizedValue {
	blocks := slices.DeleteFunc(parser.DefaultBlockParsers(), func(b util.PrioritizedValue) bool {
		return b.Priority == indentedCode
	})
	for i, b := range blocks {
		switch p := b.Value.(parser.BlockParser); b.Priority {
		case paragraphs:
			blocks[i].Value = indented{p}
		case underlined:
			blocks[i].Value = underlines{headings{p}}
		case marked:
			blocks[i].Value = headings{p}
		case fencedCode:
			blocks[i].Value = codeFences{p}
		case lists:
			blocks[i].Value = storied{p}
		}
	}
	return append(blocks, util.Prioritized(formFences{}, fencedCode-10))
}

// indented lets a paragraph begin with any indent. Authors indent paragraphs
// with tabs and spaces; in CommonMark that would make them code.
type indented struct{ parser.BlockParser }

func (indented) CanAcceptIndentedLine() bool { return true }

// dashes keeps the typographer from looking at quotation marks in vain.
type dashes struct{ parser.InlineParser }

func (dashes) Trigger() []byte { return []byte("-.") }

// tooDeepKey keeps the offset of the first block that was nested too deep.
var tooDeepKey = parser.NewContextKey()

// bounded opens no block below maxDepth, and notes that it was asked to.
type bounded struct{ parser.BlockParser }

func (b bounded) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	n, state := b.BlockParser.Open(parent, r, pc)
	if n != nil && state&parser.HasChildren != 0 && len(pc.OpenedBlocks()) >= maxDepth {
		if pc.Get(tooDeepKey) == nil {
			_, seg := r.Position()
			pc.Set(tooDeepKey, seg.Start)
		}
		return nil, parser.NoChildren
	}
	return n, state
}

// noteBlocks opens no note inside a note: goldmark would make the two each
// other's parents.
type noteBlocks struct{ parser.BlockParser }

func (b noteBlocks) Open(parent ast.Node, r text.Reader, pc parser.Context) (ast.Node, parser.State) {
	for n := parent; n != nil; n = n.Parent() {
		if n.Kind() == extast.KindFootnote {
			return nil, parser.NoChildren
		}
	}
	return bounded{b.BlockParser}.Open(parent, r, pc)
}

// parse reads a clean text. A fault of the reader itself comes back as an
// error and does not bring down the caller.
func parse(p parser.Parser, name string, src []byte) (doc ast.Node, tooDeep int, err error) {
	pc := parser.NewContext()
	defer func() {
		if r := recover(); r != nil {
			if v, ok := pc.Get(tooDeepKey).(int); ok {
				tooDeep = v // a list whose items were not let in
				return
			}
			err = &Error{Pos: Pos{File: name}, What: fmt.Sprintf("the Markdown reader failed on this file: %v", r),
				Mend: "take out the last thing that you changed"}
		}
	}()
	doc = p.Parse(text.NewReader(src), parser.WithContext(pc))
	tooDeep = -1
	if v, ok := pc.Get(tooDeepKey).(int); ok {
		tooDeep = v
	}
	return doc, tooDeep, nil
}
