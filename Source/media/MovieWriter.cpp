#include "media/MovieWriter.h"

#include "media/MovieTrack.h"
#include "time/Rate.h"
#include "time/Text.h"
#include "time/Timecode.h"

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <fcntl.h>
#include <optional>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>
#include <vector>

extern "C"
{
#include <libavutil/channel_layout.h>
}

namespace shutterbeat::media
{
namespace
{
/// PCM has no frame size of its own.
constexpr int pcmBlock = 4800;

Error full (const std::string& path, const std::string& why)
{
    return cannotWrite (path, why + "; choose another folder, or make room and check its permissions");
}

std::string endingOf (const std::string& path)
{
    const auto dot = path.rfind ('.');
    const auto slash = path.rfind ('/');
    return dot == std::string::npos || (slash != std::string::npos && dot < slash) ? "" : time::lowerAscii (path.substr (dot));
}

std::optional<Error> refusal (const std::string& path, const MovieSpec& spec)
{
    const auto ending = endingOf (path);
    if (ending != ".mp4" && ending != ".m4v" && ending != ".mov")
        return usageError (path, "a movie's name ends in .mp4 or .mov; give it one of these");
    if (spec.codec == MovieCodec::prores && ending != ".mov")
        return usageError (path, "ProRes goes into .mov; give the file that ending, or choose h264");
    const auto fits = [] (int size) { return size >= 16 && size <= 8192 && size % 2 == 0; };
    if (! fits (spec.width) || ! fits (spec.height))
        return usageError (path, "a movie of " + std::to_string (spec.width) + " x " + std::to_string (spec.height)
                                     + " can't be made; both must be even, from 16 to 8192");
    const auto small = time::Int128 (1) << 30;
    if (! spec.rate.valid() || spec.rate.sign() <= 0 || spec.rate > time::Rational (240) || spec.rate.numerator() >= small
        || spec.rate.denominator() >= small || ! spec.pixelShape.valid() || spec.pixelShape.sign() <= 0)
        return usageError (path,
                           "a movie of " + time::fractionText (spec.rate) + " pictures a second can't be made; above 0 to 240");
    if (! spec.startLabel.empty())
    {
        const bool drop = spec.startLabel.find (';') != std::string::npos;
        if (const auto read = time::parseLabel (spec.startLabel, { spec.rate, drop }); ! read)
            return usageError (path, "its start timecode " + read.error().text());
    }
    return {};
}
} // namespace

struct MovieWriter::State
{
    std::string path, temporary;
    MovieSpec spec;
    OutputHandle format;
    MovieTrack picture, sound;
    FrameHandle samples; ///< being filled
    int filled = 0;
    std::int64_t pictures = 0;
    std::int64_t taken = 0, sent = 0; ///< samples
    bool finished = false;

    ~State();
    Result<Done> begin();
    Result<Done> sendSound();
    [[nodiscard]] Result<Done> checked (int code) const;
};

MovieWriter::State::~State()
{
    format.reset();
    if (! finished && ! temporary.empty())
        ::unlink (temporary.c_str());
}

Result<Done> MovieWriter::State::checked (int code) const
{
    if (code >= 0 && format->pb != nullptr && format->pb->error < 0)
        code = format->pb->error;
    if (code < 0)
        return full (path, "it can't be written: " + libavText (code));
    return Done{};
}

Result<Done> MovieWriter::State::begin()
{
    const auto slash = path.rfind ('/');
    temporary = (slash == std::string::npos ? "./" : path.substr (0, slash + 1)) + ".movie-XXXXXX";
    const int file = ::mkostemp (temporary.data(), O_CLOEXEC);
    if (file < 0)
    {
        temporary.clear();
        return full (path, std::strerror (errno));
    }
    ::close (file);

    AVFormatContext* made = nullptr;
    const char* kind = endingOf (path) == ".mov" ? "mov" : "mp4";
    // "file:" keeps libav from taking a colon in the name for a protocol.
    if (int code = avformat_alloc_output_context2 (&made, nullptr, kind, ("file:" + temporary).c_str()); code < 0)
        return full (path, libavText (code));
    format.reset (made);
    // Neither the date nor libav's version: the same movie is the same bytes.
    format->flags |= AVFMT_FLAG_BITEXACT;
    if (! spec.title.empty())
        av_dict_set (&format->metadata, "title", spec.title.c_str(), 0);
    auto pictures_ = addPictureTrack (*format, path, spec);
    if (! pictures_)
        return pictures_.error();
    picture = std::move (*pictures_);
    if (spec.sound)
    {
        auto track = addSoundTrack (*format, path, spec);
        if (! track)
            return track.error();
        sound = std::move (*track);
    }
    if (int code = avio_open (&format->pb, format->url, AVIO_FLAG_WRITE); code < 0)
        return full (path, libavText (code));
    AVDictionary* options = nullptr;
    // The table of contents in front: a web page can begin to play and jump at once.
    if (spec.codec == MovieCodec::h264)
        av_dict_set (&options, "movflags", "+faststart", 0);
    const int code = avformat_write_header (format.get(), &options);
    av_dict_free (&options);
    return checked (code);
}

MovieWriter::MovieWriter (std::unique_ptr<State> opened)
    : state (std::move (opened))
{
}

MovieWriter::~MovieWriter() = default;

std::int64_t MovieWriter::pictures() const
{
    return state->pictures;
}

std::int64_t MovieWriter::samples() const
{
    return state->taken;
}

Result<std::unique_ptr<MovieWriter>> MovieWriter::open (const std::string& path, const MovieSpec& spec)
{
    silenceLibav();
    if (auto wrong = refusal (path, spec))
        return *wrong;
    auto state = std::make_unique<State>();
    state->path = path;
    state->spec = spec;
    if (auto begun = state->begin(); ! begun)
        return begun.error();
    return std::unique_ptr<MovieWriter> (new MovieWriter (std::move (state)));
}

Result<Done> MovieWriter::add (const Canvas& canvas)
{
    if (canvas.width() != state->spec.width || canvas.height() != state->spec.height
        || canvas.frame().format != state->picture.codec->pix_fmt)
        return usageError (state->path, "a picture of another size or codec than the movie's was given");
    const FrameHandle frame (av_frame_alloc());
    if (int code = av_frame_ref (frame.get(), &canvas.frame()); code < 0)
        return state->checked (code);
    frame->pts = state->pictures++;
    frame->sample_aspect_ratio = state->picture.codec->sample_aspect_ratio;
    return state->checked (state->picture.write (*state->format, frame.get()));
}

Result<Done> MovieWriter::State::sendSound()
{
    samples->nb_samples = filled;
    samples->pts = sent;
    sent += filled;
    filled = 0;
    const int code = sound.write (*format, samples.get());
    samples.reset();
    return checked (code);
}

Result<Done> MovieWriter::addSound (std::span<const float> interleaved)
{
    auto& s = *state;
    if (! s.sound.codec)
        return usageError (s.path, "this movie has no sound track");
    const int block = s.sound.codec->frame_size > 0 ? s.sound.codec->frame_size : pcmBlock;
    for (std::size_t at = 0; at + 1 < interleaved.size(); at += channels)
    {
        if (! s.samples)
        {
            s.samples.reset (av_frame_alloc());
            s.samples->format = s.sound.codec->sample_fmt;
            s.samples->nb_samples = block;
            s.samples->sample_rate = s.sound.codec->sample_rate;
            av_channel_layout_default (&s.samples->ch_layout, channels);
            if (int code = av_frame_get_buffer (s.samples.get(), 0); code < 0)
                return s.checked (code);
        }
        for (int c = 0; c < channels; ++c)
        {
            const float given = interleaved[at + static_cast<std::size_t> (c)];
            const float level = std::isfinite (given) ? std::clamp (given, -1.0f, 1.0f) : 0.0f;
            if (s.sound.codec->sample_fmt == AV_SAMPLE_FMT_FLTP)
                reinterpret_cast<float*> (s.samples->data[c])[s.filled] = level;
            else
            {
                // Of the 32 bits PCM keeps the upper 24; rounded to these.
                const auto whole = std::clamp<long> (std::lround (static_cast<double> (level) * 8388608.0), -8388608, 8388607);
                reinterpret_cast<std::int32_t*> (s.samples->data[0])[s.filled * channels + c] =
                    static_cast<std::int32_t> (whole * 256);
            }
        }
        ++s.filled;
        ++s.taken;
        if (s.filled == block)
            if (auto done = s.sendSound(); ! done)
                return done;
    }
    return Done{};
}

Result<Done> MovieWriter::finish()
{
    auto& s = *state;
    if (s.pictures == 0)
        return cannotWrite (s.path, "a movie without a picture can't be made");
    if (s.filled > 0)
        if (auto done = s.sendSound(); ! done)
            return done;
    if (auto done = s.checked (s.picture.write (*s.format, nullptr)); ! done)
        return done;
    if (s.sound.codec)
        if (auto done = s.checked (s.sound.write (*s.format, nullptr)); ! done)
            return done;
    if (auto done = s.checked (av_write_trailer (s.format.get())); ! done)
        return done;
    if (int code = avio_closep (&s.format->pb); code < 0)
        return full (s.path, libavText (code));

    const mode_t mask = ::umask (0);
    ::umask (mask);
    const int file = ::open (s.temporary.c_str(), O_RDWR | O_CLOEXEC);
    const bool safe = file >= 0 && ::fchmod (file, 0666 & ~mask) == 0 && ::fsync (file) == 0;
    if ((file >= 0 && ::close (file) != 0) || ! safe || ::rename (s.temporary.c_str(), s.path.c_str()) != 0)
        return full (s.path, std::strerror (errno));
    s.finished = true;
    return Done{};
}
} // namespace shutterbeat::media
