#pragma once

namespace shutterbeat::exchange
{
/// The files of Source/exchange/page, built in: the page's frame with {{...}} where things go, its look, what it does.
const char* pageHtml();
const char* pageCss();
const char* pageJs();
} // namespace shutterbeat::exchange
