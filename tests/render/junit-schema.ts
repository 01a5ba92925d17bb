import { childElements, type XmlElement } from '../support/strict-xml.ts';

const SUITE = ['name', 'package', 'id', 'timestamp', 'hostname', 'tests', 'failures', 'errors', 'time'];
const CASE = ['name', 'classname', 'time'];

/**
 * What a document breaks of the public JUnit.xsd schema of Apache Ant: root, required and allowed attributes, order
 * and number of children, formats of time and numbers, counts.
 */
export function junitFaults(root: XmlElement): string[] {
  if (root.name !== 'testsuites') return [`root is ${root.name}`];
  return [...onlyElements(root), ...childElements(root).flatMap(suiteFaults)];
}

function suiteFaults(suite: XmlElement, index: number): string[] {
  const { attributes } = suite;
  const names = childElements(suite).map(({ name }) => name);
  const cases = childElements(suite, 'testcase');
  const having = (child: string) => cases.filter((one) => childElements(one, child).length > 0).length;
  const counted = {
    tests: cases.length,
    failures: having('failure'),
    errors: having('error'),
    skipped: having('skipped'),
  };
  return [
    ...(suite.name === 'testsuite' ? [] : [`${suite.name} inside testsuites`]),
    ...attributeFaults(suite, SUITE, ['skipped']),
    ...onlyElements(suite),
    ...(/^properties( testcase)* system-out system-err$/.test(names.join(' ')) ? [] : [`children: ${names.join(' ')}`]),
    ...(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d$/.test(attributes.timestamp) ? [] : [`timestamp ${attributes.timestamp}`]),
    ...(attributes.id === String(index) ? [] : [`id ${attributes.id}`]),
    ...(attributes.hostname?.trim() === '' ? ['empty hostname'] : []),
    ...Object.entries(counted).flatMap(([name, count]) =>
      (attributes[name] ?? '0') === String(count) ? [] : [`${name} is ${attributes[name]} and not ${count}`],
    ),
    ...childElements(suite, 'properties').flatMap((list) =>
      childElements(list).flatMap((property) => [
        ...(property.name === 'property' ? [] : [`${property.name} inside properties`]),
        ...attributeFaults(property, ['name', 'value'], []),
      ]),
    ),
    ...cases.flatMap(caseFaults),
  ];
}

function caseFaults(one: XmlElement): string[] {
  const children = childElements(one);
  return [
    ...attributeFaults(one, CASE, []),
    ...onlyElements(one),
    ...(children.length > 1 ? [`testcase with ${children.length} children`] : []),
    ...children.flatMap((child) => {
      if (child.name === 'skipped') return attributeFaults(child, [], ['message']);
      if (child.name === 'failure' || child.name === 'error') return attributeFaults(child, ['type'], ['message']);
      return [`${child.name} inside testcase`];
    }),
  ];
}

function attributeFaults({ name, attributes }: XmlElement, required: string[], optional: string[]): string[] {
  return [
    ...required.filter((key) => !(key in attributes)).map((key) => `${name} without ${key}`),
    ...Object.keys(attributes)
      .filter((key) => ![...required, ...optional].includes(key))
      .map((key) => `${name} with ${key}`),
    ...('time' in attributes && !/^\d+(\.\d+)?$/.test(attributes.time) ? [`time ${attributes.time}`] : []),
  ];
}

function onlyElements({ name, children }: XmlElement): string[] {
  return children.some((child) => typeof child === 'string' && child.trim() !== '') ? [`text inside ${name}`] : [];
}
