package preflight

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// document is a file taken apart.
type document struct {
	x       *model.Context
	decoded int64 // bytes so far
}

// Bounds of what is read: a novel with pictures has some thousand objects and
// some ten megabytes.
const (
	mostBytes   = 1 << 30 // of the file
	mostStream  = 64 << 20
	mostDecoded = 1 << 30 // of all streams together
	mostObjects = 1_000_000
	mostPages   = 20_000
	mostDepth   = 64
)

// open reads the objects of a file.
func open(ctx context.Context, r io.ReadSeeker) (*document, error) {
	size, err := r.Seek(0, io.SeekEnd)
	if err != nil {
		return nil, err
	}
	if size > mostBytes {
		return nil, fmt.Errorf("%w: %d bytes", errBounds, size)
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	// A configuration of our own: the default one reads and writes the user's
	// folders.
	limits := model.DefaultResourceLimits()
	limits.MaxStreamBytes, limits.MaxDecodeBytes, limits.MaxImageBytes = mostStream*4, mostStream, mostStream
	limits.MaxObjectCount, limits.MaxXRefEntries = mostObjects, mostObjects
	conf := &model.Configuration{Reader15: true, ValidationMode: model.ValidationRelaxed, Offline: true, Cmd: model.LISTINFO, Limits: limits}
	x, err := pdfcpu.ReadWithContext(ctx, r, conf)
	switch {
	case errors.Is(err, pdfcpu.ErrWrongPassword):
		return nil, errLocked
	case err != nil && strings.Contains(err.Error(), "limit"):
		return nil, fmt.Errorf("%w: %w", errBounds, err)
	case err != nil:
		return nil, err
	}
	return &document{x: x}, nil
}

func (d *document) version() string {
	v := d.x.HeaderVersion
	if d.x.RootVersion != nil {
		v = d.x.RootVersion
	}
	if v == nil {
		return ""
	}
	return v.String()
}

// get follows references.
func (d *document) get(o types.Object) types.Object {
	o, err := d.x.Dereference(o)
	if err != nil {
		return nil
	}
	switch v := o.(type) {
	case *types.StreamDict:
		return *v
	case *types.Dict:
		return *v
	}
	return o
}

func (d *document) dict(o types.Object) types.Dict {
	switch v := d.get(o).(type) {
	case types.Dict:
		return v
	case types.StreamDict:
		return v.Dict
	}
	return nil
}

func (d *document) array(o types.Object) types.Array {
	a, _ := d.get(o).(types.Array)
	return a
}

func (d *document) name(o types.Object) string {
	n, _ := d.get(o).(types.Name)
	return n.Value()
}

func (d *document) number(o types.Object) (float64, bool) {
	switch v := d.get(o).(type) {
	case types.Integer:
		return float64(v.Value()), true
	case types.Float:
		return v.Value(), true
	}
	return 0, false
}

// text returns a text string (ISO 32000-1, 7.9.2.2).
func (d *document) text(o types.Object) string {
	var s string
	var err error
	switch v := d.get(o).(type) {
	case types.StringLiteral:
		s, err = types.StringLiteralToString(v)
	case types.HexLiteral:
		s, err = types.HexLiteralToString(v)
	}
	if err != nil {
		return ""
	}
	return s
}

// numbers returns n numbers of an array; nil if it has others.
func (d *document) numbers(o types.Object, n int) []float64 {
	a := d.array(o)
	if len(a) < n {
		return nil
	}
	v := make([]float64, n)
	for i := range v {
		var ok bool
		if v[i], ok = d.number(a[i]); !ok {
			return nil
		}
	}
	return v
}

// box returns a page box with its corners in order.
func (d *document) box(o types.Object) (Box, bool) {
	v := d.numbers(o, 4)
	if v == nil {
		return Box{}, false
	}
	b := Box{min(v[0], v[2]), min(v[1], v[3]), max(v[0], v[2]), max(v[1], v[3])}
	return b, b.X1 > b.X0 && b.Y1 > b.Y0
}

// decode returns the bytes of a stream without its filters.
func (d *document) decode(o types.Object) ([]byte, error) {
	s, ok := d.get(o).(types.StreamDict)
	if !ok {
		return nil, errors.New("there is no stream")
	}
	if s.Content == nil {
		if err := s.DecodeWithLimit(mostStream); err != nil {
			return nil, err
		}
	}
	if d.decoded += int64(len(s.Content)); d.decoded > mostDecoded {
		return nil, fmt.Errorf("%w: over %d bytes in its streams", errBounds, mostDecoded)
	}
	return s.Content, nil
}

// node is a page with what it inherits.
type node struct {
	types.Dict
	resources types.Dict
	media     types.Object
	crop      types.Object
	rotate    types.Object
}

// pages walks the tree of pages (ISO 32000-1, 7.7.3).
func (d *document) pages(ctx context.Context) ([]node, error) {
	root := d.dict(*d.x.Root)
	var all []node
	seen := make(map[string]bool)
	var walk func(o types.Object, from node, depth int) error
	walk = func(o types.Object, from node, depth int) error {
		if ref, ok := o.(types.IndirectRef); ok {
			if seen[ref.String()] {
				return errors.New("its tree of pages goes round in a circle")
			}
			seen[ref.String()] = true
		}
		if depth > mostDepth || len(all) >= mostPages {
			return fmt.Errorf("%w: its tree of pages has no end", errBounds)
		}
		p := d.dict(o)
		if p == nil {
			return errors.New("a page is missing")
		}
		from.Dict = p
		for _, own := range []struct {
			key string
			to  *types.Object
		}{{"MediaBox", &from.media}, {"CropBox", &from.crop}, {"Rotate", &from.rotate}} {
			if v := p[own.key]; v != nil {
				*own.to = v
			}
		}
		if r := d.dict(p["Resources"]); r != nil {
			from.resources = r
		}
		kids := d.array(p["Kids"])
		if d.name(p["Type"]) == "Page" || kids == nil {
			all = append(all, from)
			return nil
		}
		for _, k := range kids {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := walk(k, from, depth+1); err != nil {
				return err
			}
		}
		return nil
	}
	if root == nil || root["Pages"] == nil {
		return nil, errors.New("it has no catalog of its pages")
	}
	return all, walk(root["Pages"], node{}, 0)
}
