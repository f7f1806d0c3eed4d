package shelf_test

import (
	"fmt"

	"bodkin/cmd/bodkin/internal/shelf"
)

func ExampleJudge() {
	survey, err := shelf.Read("survey.csv", []byte(`title,binding,height,width,unit
The Heron's Ledger,paperback,8,5 1/4,in
Quarry Light,paperback,8,5.25,in
Frost on the Signal Box,case,8¼,5½,in
The Verger Says Nothing,paperback,198,129,mm
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := shelf.Judge(survey, shelf.Known(nil, nil), shelf.Paperback)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range r.Standings {
		fmt.Println(s.Trim.Label(), s.Books)
	}
	fmt.Println(r.Belongs.Label(), "belongs:", r.Reasons[0])
	// Output:
	// 5.25x8in 3
	// 129x198mm (B-format) 1
	// 5.25x8in belongs: It is the most common trim of the shelf: 3 of the 4 books, 75 %.
}
