/**
 * CSS px that a page needs below an element: what stands there, however far down it has been pushed, with its gaps and
 * the page's edge.
 */
export function spaceBelow(element: HTMLElement): number {
  let space = 0;
  for (let at = element; at.parentElement && at !== document.body; at = at.parentElement) {
    const { bottom } = at.getBoundingClientRect();
    const boxes = [...siblingsAfter(at)]
      .map((sibling) => sibling.getBoundingClientRect())
      .filter((box) => box.height > 0 && box.top >= bottom - 1);
    const { rowGap, paddingBottom } = getComputedStyle(at.parentElement);
    space += Number.parseFloat(paddingBottom) || 0;
    if (boxes.length === 0) continue;
    const [from, to] = [
      Math.min(...boxes.map(({ top }) => top)),
      Math.max(...boxes.map((box) => box.bottom)),
    ];
    space += to - from + (Number.parseFloat(rowGap) || 0);
  }
  return space;
}

function* siblingsAfter(element: Element): Generator<Element> {
  for (let next = element.nextElementSibling; next; next = next.nextElementSibling)
    // What lies over the page takes none of it.
    if (!['absolute', 'fixed'].includes(getComputedStyle(next).position)) yield next;
}
