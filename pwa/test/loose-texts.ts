/** Finds interface text that stands in code instead of the catalogue. */
import { readFileSync } from "node:fs";
import ts from "typescript";

/** Attributes whose value is read by a person. */
const READ = /^(aria-label|aria-description|alt|title|placeholder|label|hint|word|words|number|text|problem|then|heads|action)$/;
/** Attributes whose value is never read. */
const UNREAD = /^(class|style|d|viewBox|place|type|role|mode|caps|shape|kind|href|id|accept|key)$/;
/** What makes a string look like words for a person: two words, a capitalised one, or one glued on by a blank. */
const LIKE_WORDS = [/\p{L}{2,}[,.:;?!]? \p{L}/u, /^[^\p{L}]*\p{Lu}\p{Ll}{2,}/u, /^[.,:;]? \p{L}{2,}/u, /\p{L}{2,}[.:,]? $/u];

const lettered = (text: string): boolean => /\p{L}{2,}/u.test(text);
const isTemplatePart = (node: ts.Node): node is ts.TemplateHead | ts.TemplateMiddle | ts.TemplateTail => ts.isTemplateHead(node) || ts.isTemplateMiddle(node) || ts.isTemplateTail(node);

/** The attribute a string is the value of, through braces, conditions and templates. */
function attributeOf(node: ts.Node): string | null {
  for (let at = node.parent; at && !ts.isJsxElement(at) && !ts.isBlock(at); at = at.parent) {
    if (ts.isJsxAttribute(at)) return at.name.getText();
    if (ts.isCallExpression(at)) return null;
  }
  return null;
}

/** Imports, types, keys of catalogue-like tables and thrown errors (which are for who mends the code) are not shown. */
function isUnseen(node: ts.Node): boolean {
  for (let at = node.parent; at; at = at.parent) {
    if (ts.isImportDeclaration(at) || ts.isTypeNode(at) || ts.isThrowStatement(at)) return true;
    if (ts.isNewExpression(at) && at.expression.getText().endsWith("Error")) return true;
    if (ts.isCallExpression(at) && at.expression.kind === ts.SyntaxKind.SuperKeyword) return true;
    if (ts.isBlock(at)) return false;
  }
  return false;
}

function looksLoose(node: ts.Node): string | null {
  if (ts.isJsxText(node)) return /\p{L}/u.test(node.text) ? node.text.trim() : null;
  if (!ts.isStringLiteralLike(node) && !isTemplatePart(node)) return null;
  const { text } = node;
  const attribute = attributeOf(node);
  if (!lettered(text) || isUnseen(node) || (attribute && UNREAD.test(attribute))) return null;
  return (attribute && READ.test(attribute)) || LIKE_WORDS.some((each) => each.test(text)) ? text : null;
}

/** Each loose text of a file, as `line: text`. */
export function looseIn(name: string, source: string): readonly string[] {
  const parsed = ts.createSourceFile(name, source, ts.ScriptTarget.Latest, true, name.endsWith("x") ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const text = looksLoose(node);
    if (text !== null) found.push(text);
    ts.forEachChild(node, visit);
  };
  visit(parsed);
  return found;
}

/** Every string of a file that stands as a literal. */
export function literalsIn(path: string): ReadonlySet<string> {
  const found = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (ts.isStringLiteralLike(node)) found.add(node.text);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.Latest, true));
  return found;
}
