#include "fuzz/Target.h"

#include "exchange/ReplyFile.h"

using namespace shutterbeat;

/// What the web page saved for somebody, and they sent back.
int LLVMFuzzerTestOneInput (const std::uint8_t* data, std::size_t size)
{
    const auto reply = exchange::readReply (fuzz::textOf (data, size));
    if (! reply)
    {
        fuzz::must (! reply.error().text().empty(), "a refusal says why");
        return 0;
    }
    fuzz::must (reply->parcel >= 0 && reply->lastNumber >= 0, "parcels and ids are counted from 0");
    for (const auto& said : reply->hits)
        fuzz::must (! said.id.empty() && said.sent.lead.valid(), "an answer names its hit");
    for (const auto& one : reply->added)
        fuzz::must (! one.hit.id.empty() && one.hit.lead.valid(), "a new hit has its id");
    return 0;
}
