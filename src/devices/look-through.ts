/** Whether text holds control bytes (a tab may stand) or bytes beyond ASCII. */
export const lookThrough = (text: string, from: number, to: number): 'plain' | 'control' | 'beyond ASCII' => {
  let beyond = false;
  for (let i = from; i < to; i += 1) {
    const c = text.charCodeAt(i);
    if (c >= 0x20 && c < 0x7f) continue;
    if (c > 0x7f) beyond = true;
    else if (c !== 9) return 'control';
  }
  return beyond ? 'beyond ASCII' : 'plain';
};
