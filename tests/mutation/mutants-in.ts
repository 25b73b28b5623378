import ts from 'typescript';

/** One small wrong change of a source file. */
export interface Mutant {
  /** Place of what is replaced, in characters from the file's beginning, end excluded. */
  readonly start: number;
  readonly end: number;
  readonly replacement: string;
  /** Counted from 1. */
  readonly line: number;
  /** The change in words, for instance "a < b becomes a <= b". */
  readonly change: string;
}

const S = ts.SyntaxKind;

/** What each operator may become: another calculation, the moved boundary, the opposite. */
const OPERATORS = new Map<ts.SyntaxKind, readonly string[]>([
  [S.PlusToken, ['-']],
  [S.MinusToken, ['+']],
  [S.AsteriskToken, ['/']],
  [S.SlashToken, ['*']],
  [S.PercentToken, ['*']],
  [S.AsteriskAsteriskToken, ['*']],
  [S.PlusEqualsToken, ['-=']],
  [S.MinusEqualsToken, ['+=']],
  [S.AsteriskEqualsToken, ['/=']],
  [S.SlashEqualsToken, ['*=']],
  [S.LessThanToken, ['<=', '>=']],
  [S.LessThanEqualsToken, ['<', '>']],
  [S.GreaterThanToken, ['>=', '<=']],
  [S.GreaterThanEqualsToken, ['>', '<']],
  [S.EqualsEqualsEqualsToken, ['!==']],
  [S.ExclamationEqualsEqualsToken, ['===']],
  [S.AmpersandAmpersandToken, ['||']],
  [S.BarBarToken, ['&&']],
]);

/**
 * Every mutant of a source file that this tool knows: operators swapped, comparisons moved or negated, numbers changed
 * (+1 for integers below 10 and hexadecimal ones, else x 1.1), signs and negations removed, booleans flipped, statement
 * calls and early returns removed. None in comments, types, imports, texts and what is thrown.
 * @param source text of a TypeScript file; it is taken to compile
 * @returns in the order of the text; several mutants may share a place
 * Source: operators as in Offutt et al. 1996, doi 10.1145/227607.227610.  Checked: tests/mutation/mutants-in.test.ts
 */
export function mutantsIn(source: string): Mutant[] {
  const file = ts.createSourceFile('source.ts', source, ts.ScriptTarget.ESNext, true);
  const mutants: Mutant[] = [];
  const visit = (node: ts.Node): void => {
    if (isNeverRun(node)) return;
    for (const { at, replacement } of changesOf(node)) {
      const [start, end] = [at.getStart(file), at.getEnd()];
      const line = file.getLineAndCharacterOfPosition(start).line + 1;
      const around = at === node ? node.parent : node;
      const change = changeInWords(source, around.getStart(file), around.getEnd(), {
        start,
        end,
        replacement,
      });
      mutants.push({ start, end, replacement, line, change });
    }
    ts.forEachChild(node, visit);
  };
  ts.forEachChild(file, visit);
  return mutants.sort((a, b) => a.start - b.start);
}

/** The text with the mutant in it. */
export function withMutant(source: string, { start, end, replacement }: Mutant): string {
  return source.slice(0, start) + replacement + source.slice(end);
}

/** Types vanish before anything runs; what is thrown is words. */
function isNeverRun(node: ts.Node): boolean {
  return (
    ts.isTypeNode(node) ||
    ts.isInterfaceDeclaration(node) ||
    ts.isTypeAliasDeclaration(node) ||
    ts.isImportDeclaration(node) ||
    ts.isExportDeclaration(node) ||
    ts.isThrowStatement(node)
  );
}

interface Change {
  readonly at: ts.Node;
  readonly replacement: string;
}

function changesOf(node: ts.Node): Change[] {
  if (ts.isBinaryExpression(node)) return operatorChanges(node);
  if (ts.isNumericLiteral(node)) return numberChanges(node);
  if (node.kind === S.TrueKeyword) return [{ at: node, replacement: 'false' }];
  if (node.kind === S.FalseKeyword) return [{ at: node, replacement: 'true' }];
  if (ts.isPrefixUnaryExpression(node) && isSign(node)) {
    return [{ at: node, replacement: node.operand.getText() }];
  }
  if (isStatementCall(node) || isEarlyReturn(node)) return [{ at: node, replacement: ';' }];
  return [];
}

function operatorChanges({ operatorToken, left, right }: ts.BinaryExpression): Change[] {
  const joinsText = operatorToken.kind === S.PlusToken && [left, right].some(isText);
  if (joinsText) return [];
  return (OPERATORS.get(operatorToken.kind) ?? []).map((replacement) => ({
    at: operatorToken,
    replacement,
  }));
}

function isText(node: ts.Node): boolean {
  return ts.isStringLiteralLike(node) || ts.isTemplateExpression(node);
}

function numberChanges(node: ts.NumericLiteral): Change[] {
  const isName = ts.isPropertyAssignment(node.parent) && node.parent.name === node;
  if (isName) return [];
  const written = node.getText();
  const value = Number(node.text);
  const isSmallInteger = Number.isInteger(value) && value < 10;
  const changed = isSmallInteger || /^0x/i.test(written) ? value + 1 : value * 1.1;
  return [{ at: node, replacement: String(Number(changed.toPrecision(12))) }];
}

function isSign({ operator }: ts.PrefixUnaryExpression): boolean {
  return operator === S.MinusToken || operator === S.ExclamationToken;
}

function isStatementCall(node: ts.Node): boolean {
  return ts.isExpressionStatement(node) && ts.isCallExpression(node.expression);
}

/** A return under a condition: without it, what follows runs. */
function isEarlyReturn(node: ts.Node): boolean {
  if (!ts.isReturnStatement(node)) return false;
  const owner = ts.isBlock(node.parent) ? node.parent.parent : node.parent;
  return ts.isIfStatement(owner);
}

const LONGEST_WORDS = 90;

function changeInWords(
  source: string,
  from: number,
  to: number,
  { start, end, replacement }: Pick<Mutant, 'start' | 'end' | 'replacement'>,
): string {
  const isLong = to - from > LONGEST_WORDS;
  const [first, last] = isLong ? [Math.max(from, start - 30), Math.min(to, end + 30)] : [from, to];
  const oneLine = (text: string) => text.replace(/\s+/g, ' ').trim();
  const before = oneLine(source.slice(first, last));
  const after = oneLine(source.slice(first, start) + replacement + source.slice(end, last));
  return `${before}  ->  ${after}`;
}
