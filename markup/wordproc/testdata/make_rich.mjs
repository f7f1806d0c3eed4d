// Makes rich.docx:  npm install docx@9.15.2 && node make_rich.mjs rich.docx
//
// The document has a title page, copyright, dedication, contents, two chapters and
// acknowledgements, with most of what the library can write in a text.
import fs from "fs";
import * as docx from "docx";
const {Document,Packer,Paragraph,TextRun,HeadingLevel,AlignmentType,FootnoteReferenceRun,PageBreak,Table,TableRow,TableCell,WidthType,ImageRun,ExternalHyperlink,UnderlineType,TableOfContents,InsertedTextRun,DeletedTextRun,CommentRangeStart,CommentRangeEnd,CommentReference,Header,Footer,LevelFormat,Tab,NoBreakHyphen,SoftHyphen,SectionType} = docx;
const P=(t,o={})=>new Paragraph({...o,children:(Array.isArray(t)?t:[t]).map(x=>typeof x==="string"?new TextRun(x):x)});
const png=Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAoAAAAKCAAAAACoWZBhAAAAeUlEQVR4nAFuAJH/AAAUKDxQZHiMoLQAAxcrP1Nne4+jtwAGGi5CVmp+kqa6AAkdMUVZbYGVqb0ADCA0SFxwhJiswAAPIzdLX3OHm6/DABImOk5idoqessYAFSk9UWV5jaG1yQAYLEBUaHyQpLjMABsvQ1drf5Onu88FuyhvRaokAQAAAABJRU5ErkJggg==","base64");
export const doc=new Document({
  creator:"Ines Marrow", title:"The Borrowed Tide", description:"", 
  styles:{default:{document:{run:{font:"Serif",size:24,language:{value:"en-GB"}}}}},
  numbering:{config:[{reference:"things",levels:[{level:0,format:LevelFormat.DECIMAL,text:"%1.",alignment:AlignmentType.START},{level:1,format:LevelFormat.BULLET,text:"•",alignment:AlignmentType.START}]}]},
  footnotes:{1:{children:[P("The tide-table of 1871, page 12.")]},2:{children:[P("A second note, with a name in "+"it."),P("And a second paragraph.")]}},
  comments:{children:[{id:0,author:"An Editor",date:new Date(0),children:[P("Is this right?")]}]},
  features:{},
  sections:[
   {headers:{default:new Header({children:[P("MARROW / TIDE")]})},children:[
    P([new TextRun({text:"The Borrowed Tide",size:48})],{alignment:AlignmentType.CENTER}),
    P("A Novel",{alignment:AlignmentType.CENTER}),
    P("by Ines Marrow",{alignment:AlignmentType.CENTER}),
    P([new PageBreak(),new TextRun("Copyright © 2026 Ines Marrow")]),
    P("All rights reserved."),
    P([new PageBreak(),new TextRun({text:"For the keeper of the lamp",italics:true})],{alignment:AlignmentType.CENTER}),
    new TableOfContents("Contents",{hyperlink:true,headingStyleRange:"1-1"}),
    P("Chapter One",{heading:HeadingLevel.HEADING_1,pageBreakBefore:true}),
    P("The Long Ebb",{heading:HeadingLevel.HEADING_2}),
    P(["The clerk came ",new TextRun({text:"early",italics:true})," that day, with a ",new TextRun({text:"bold",bold:true})," face, ",new TextRun({text:"both",bold:true,italics:true}),", ",new TextRun({text:"under",underline:{type:UnderlineType.SINGLE}})," lined; ",new TextRun({text:"small",smallCaps:true})," and ",new TextRun({text:"CAPS",allCaps:true}),". H",new TextRun({text:"2",subScript:true}),"O and m",new TextRun({text:"2",superScript:true}),".",new FootnoteReferenceRun(1)]),
    P(["He wrote: ",new InsertedTextRun({text:"new words",id:1,author:"E",date:"2026-01-01T00:00:00Z"}),new DeletedTextRun({text:"old words",id:2,author:"E",date:"2026-01-01T00:00:00Z"})," and went."]),
    P([new CommentRangeStart(0),new TextRun("A remark"),new CommentRangeEnd(0),new TextRun({children:[new CommentReference(0)]}),new TextRun(" was made.")]),
    P("* * *",{alignment:AlignmentType.CENTER}),
    P("1. typed numbers # signs _under_ *star* [brackets] <angle> \\ back & amp; 5 > 3"),
    P("- dash at the beginning"),
    P("+ plus at the beginning"),
    P("# hash at the beginning"),
    P(["Line one",new TextRun({text:"line two",break:1}),new TextRun({text:"line three",break:1})],{alignment:AlignmentType.CENTER}),
    P("Quoted text stands in from both sides of the measure.",{indent:{left:720,right:720}}),
    P("First thing",{numbering:{reference:"things",level:0}}),
    P("Inner thing",{numbering:{reference:"things",level:1}}),
    P("Second thing",{numbering:{reference:"things",level:0}}),
    new Table({width:{size:100,type:WidthType.PERCENTAGE},rows:[new TableRow({tableHeader:true,children:[new TableCell({children:[P("Place")]}),new TableCell({children:[P("Hour")]})]}),new TableRow({children:[new TableCell({children:[P("Harwich | pier")]}),new TableCell({children:[P("5.29")]})]})]}),
    P([new ImageRun({type:"png",data:png,transformation:{width:100,height:100},altText:{title:"A dial",description:"A dial of the clock",name:"dial"}})],{alignment:AlignmentType.CENTER}),
    P(["See ",new ExternalHyperlink({link:"https://tides.example/",children:[new TextRun("our page")]}),"; hy",new SoftHyphenRun(),"phen."]),
    P("A second chapter",{heading:HeadingLevel.HEADING_1,pageBreakBefore:true}),
    P([new TextRun({text:"Skerrow, 3 March 1908",italics:true})]),
    P("“’Twas late,” she said, and "+"‘no’."),
    P(["The end.",new FootnoteReferenceRun(2)]),
   ]},
   {properties:{type:SectionType.NEXT_PAGE},children:[
    P("Acknowledgements",{heading:HeadingLevel.HEADING_1}),
    P("Thanks to all."),
   ]}]});
function SoftHyphenRun(){return new TextRun({children:["\u00AD"]});}
const buf=await Packer.toBuffer(doc);
fs.writeFileSync(process.argv[2],buf);
