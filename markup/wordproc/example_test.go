package wordproc_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"bodkin/markup/wordproc"
)

// A document becomes a folder of chapters, which are compared with it.
func ExampleRead() {
	d, err := wordproc.Read(context.Background(), "testdata/rich.odt", wordproc.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer d.Close()
	m := d.Recognise()
	fmt.Printf("%s: %s, by %s\n", d.Format, m.Title, m.Author)

	parent, err := os.MkdirTemp("", "")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(parent)
	_, compared, err := m.Save(context.Background(), filepath.Join(parent, "book"), nil, false)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range m.Pieces {
		fmt.Println(p.File)
	}
	fmt.Println("equal:", compared.Equal())
	// Output:
	// OpenDocument Text: The Borrowed Tide, by Ines Marrow
	// front/copyright.md
	// front/dedication.md
	// chapters/01-the-long-ebb.md
	// chapters/02-a-second-chapter.md
	// back/acknowledgements.md
	// equal: true
}
