// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dayplan/notice_text.h"

#include <QHash>
#include <QLocale>

#include <algorithm>
#include <functional>

namespace keyround {

namespace {

using Fill = std::function<Result<QString>(const QString &field)>;

QString bracedFields()
{
    QStringList braced;
    for (const QString &field : noticeFields()) {
        braced << QLatin1Char('{') + field + QLatin1Char('}');
    }
    return braced.join(QStringLiteral(", "));
}

tl::unexpected<Error> loneBrace(const QString &text, qsizetype at)
{
    return fail(ErrorCode::BadInput,
                QStringLiteral("A brace stands alone near \"%1\". A field stands between two: "
                               "{date}. For a brace itself, write two.")
                    .arg(text.mid(std::max<qsizetype>(0, at - 8), 20).simplified()));
}

/// Walks the text once and lets `fill` say what stands in each field's place.
Result<QString> filled(const QString &text, const Fill &fill)
{
    QString result;
    for (qsizetype at = 0; at < text.size(); ++at) {
        const QChar here = text.at(at);
        const bool isBrace = here == QLatin1Char('{') || here == QLatin1Char('}');
        if (!isBrace) {
            result += here;
        } else if (at + 1 < text.size() && text.at(at + 1) == here) {
            result += here;
            ++at;
        } else {
            const qsizetype end = text.indexOf(QLatin1Char('}'), at);
            if (here == QLatin1Char('}') || end < 0) {
                return loneBrace(text, at);
            }
            const QString field = text.mid(at + 1, end - at - 1).trimmed();
            if (!noticeFields().contains(field)) {
                return fail(ErrorCode::BadInput,
                            QStringLiteral("There is no field {%1}. The fields are %2.")
                                .arg(field, bracedFields()));
            }
            const Result<QString> value = fill(field);
            if (!value) {
                return value;
            }
            result += *value;
            at = end;
        }
    }
    return result;
}

Result<QString> asName(const QString &field)
{
    return field;
}

QHash<QString, QString> valuesOf(const NoticeTemplate &wording, const NoticeFacts &facts,
                                 const NoticeRecipient &recipient)
{
    const QLocale locale(wording.language);
    const auto time = [&locale](const QTime &at) {
        return at.isValid() ? locale.toString(at, QLocale::ShortFormat) : QString();
    };
    const bool isSpanish = locale.language() == QLocale::Spanish;
    const QString nobody = isSpanish ? QStringLiteral("Cliente") : QStringLiteral("Customer");
    return {
        {QStringLiteral("date"),
         facts.day.isValid() ? locale.toString(facts.day, QLocale::LongFormat) : QString()},
        {QStringLiteral("from"), time(facts.from)},
        {QStringLiteral("to"), time(facts.to)},
        {QStringLiteral("why"), facts.why},
        {QStringLiteral("utility"), facts.utility},
        {QStringLiteral("contact"), facts.contact},
        {QStringLiteral("address"), recipient.address},
        {QStringLiteral("service"), recipient.service},
        {QStringLiteral("customer"), recipient.customer.isEmpty() ? nobody : recipient.customer}};
}

QString whereToSet(const QString &field)
{
    if (field == QLatin1String("contact")) {
        return QStringLiteral("Fill in the contact for questions in the settings for notices.");
    }
    if (field == QLatin1String("utility")) {
        return QStringLiteral("Fill in the utility's name in the settings.");
    }
    if (field == QLatin1String("address")) {
        return QStringLiteral("Fill in its address in the list of services.");
    }
    return QStringLiteral("Say it for this notice.");
}

// ---- the examples ----

const char *const hangerEn =
    "{utility}\n\n"
    "On {date}, from {from} to {to}, the water will be off at\n{address}.\n\n"
    "Why: {why}\n\n"
    "What to do: draw the water that you will need beforehand. Keep taps closed while it is off, "
    "and use no hot water. When it is back, open a cold tap slowly and let it run until it is "
    "clear.\n\n"
    "If you cannot be without water, call us now.\n\n"
    "Questions: {contact}\n\n"
    "Should anything else be asked of you before you drink the water, the utility tells you in a "
    "notice of its own.";

const char *const hangerEs =
    "{utility}\n\n"
    "El {date}, de {from} a {to}, se cortar\u00E1 el agua en\n{address}.\n\n"
    "Motivo: {why}\n\n"
    "Qu\u00E9 hacer: guarde antes el agua que vaya a necesitar. Mientras no haya agua, mantenga "
    "cerradas las llaves y no use agua caliente. Cuando vuelva, abra despacio una llave de agua "
    "fr\u00EDa y d\u00E9jela correr hasta que salga clara.\n\n"
    "Si no puede quedarse sin agua, ll\u00E1menos ahora.\n\n"
    "Preguntas: {contact}\n\n"
    "Si hiciera falta algo m\u00E1s antes de beber el agua, la empresa se lo dir\u00E1 en un aviso "
    "propio.";

const char *const letterEn =
    "Dear {customer},\n\n"
    "on {date}, from {from} to {to}, the water will be off at {address} (service {service}).\n\n"
    "{why}\n\n"
    "Please draw the water that you will need beforehand. Keep taps closed while it is off, and "
    "use no hot water. When it is back, open a cold tap slowly and let it run until it is "
    "clear.\n\n"
    "If you cannot be without water, or have questions, please call: {contact}.\n\n"
    "Should anything else be asked of you before you drink the water, we tell you in a notice of "
    "its own.\n\n"
    "{utility}";

const char *const letterEs =
    "Estimado/a {customer}:\n\n"
    "El {date}, de {from} a {to}, se cortar\u00E1 el agua en {address} (servicio {service}).\n\n"
    "{why}\n\n"
    "Guarde antes el agua que vaya a necesitar. Mientras no haya agua, mantenga cerradas las "
    "llaves y no use agua caliente. Cuando vuelva, abra despacio una llave de agua fr\u00EDa y "
    "d\u00E9jela correr hasta que salga clara.\n\n"
    "Si no puede quedarse sin agua, o tiene preguntas, llame a: {contact}.\n\n"
    "Si hiciera falta algo m\u00E1s antes de beber el agua, se lo diremos en un aviso propio.\n\n"
    "{utility}";

const char *const callEn =
    "This is {utility}. On {date}, from {from} to {to}, the water will be off at {address}. "
    "{why} Please draw the water that you will need. Can you be without water for that time? "
    "Questions later: {contact}.";

const char *const callEs =
    "Le llamamos de {utility}. El {date}, de {from} a {to}, se cortar\u00E1 el agua en {address}. "
    "{why} Guarde antes el agua que vaya a necesitar. \u00BFPuede quedarse sin agua ese tiempo? "
    "Para preguntas: {contact}.";

NoticeTemplate example(const char *name, NoticeForm form, const char *language, const char *title,
                       const char *text)
{
    return {QString::fromUtf8(name), form, QString::fromLatin1(language), QString::fromUtf8(title),
            QString::fromUtf8(text)};
}

} // namespace

QString wordFor(NoticeForm form)
{
    switch (form) {
    case NoticeForm::DoorHanger:
        return QStringLiteral("door hanger");
    case NoticeForm::Letter:
        return QStringLiteral("letter");
    case NoticeForm::Call:
        break;
    }
    return QStringLiteral("call");
}

QString keyFor(NoticeForm form)
{
    return wordFor(form).replace(QLatin1Char(' '), QLatin1Char('_'));
}

std::optional<NoticeForm> noticeFormFromKey(const QString &key)
{
    for (const NoticeForm form : {NoticeForm::DoorHanger, NoticeForm::Letter, NoticeForm::Call}) {
        if (key == keyFor(form)) {
            return form;
        }
    }
    return std::nullopt;
}

std::vector<NoticeTemplate> exampleNotices()
{
    using enum NoticeForm;
    return {
        example("Door hanger, English", DoorHanger, "en-US", "Your water will be off", hangerEn),
        example("Door hanger, Spanish", DoorHanger, "es-US", "Corte de agua", hangerEs),
        example("Letter, English", Letter, "en-US", "Your water will be off on {date}", letterEn),
        example("Letter, Spanish", Letter, "es-US", "Corte de agua el {date}", letterEs),
        example("Call, English", Call, "en-US", "Water off", callEn),
        example("Call, Spanish", Call, "es-US", "Corte de agua", callEs)};
}

const NoticeTemplate *templateNamed(const NoticeTemplates &templates, const QString &name)
{
    const auto found = std::ranges::find_if(templates.list, [&name](const NoticeTemplate &each) {
        return each.name.compare(name.trimmed(), Qt::CaseInsensitive) == 0;
    });
    return found == templates.list.end() ? nullptr : &*found;
}

QString usualReason(const QString &language)
{
    return QLocale(language).language() == QLocale::Spanish
               ? QStringLiteral("Probamos una v\u00E1lvula, para que cierre cuando se rompa una "
                                "tuber\u00EDa.")
               : QStringLiteral("We work a valve, so that it shuts when a main breaks.");
}

NoticeWindow windowFor(const QTime &from, const QTime &to)
{
    constexpr int half = 30 * 60;
    constexpr int lastOfDay = 24 * 60 * 60 - 60;
    const int begin = QTime(0, 0).secsTo(from) / half * half;
    const int end = (QTime(0, 0).secsTo(to) + half - 1) / half * half;
    return {QTime(0, 0).addSecs(begin), QTime(0, 0).addSecs(std::min(end, lastOfDay))};
}

const QStringList &noticeFields()
{
    static const QStringList fields{
        QStringLiteral("date"),    QStringLiteral("from"),    QStringLiteral("to"),
        QStringLiteral("why"),     QStringLiteral("utility"), QStringLiteral("contact"),
        QStringLiteral("address"), QStringLiteral("service"), QStringLiteral("customer")};
    return fields;
}

Status checkNoticeText(const QString &text)
{
    return filled(text, asName).map([](const QString &) {});
}

Status checkTemplate(const NoticeTemplate &wording)
{
    if (wording.name.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput, QStringLiteral("A wording needs a name."));
    }
    if (wording.text.trimmed().isEmpty()) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("The wording \"%1\" has no text.").arg(wording.name));
    }
    const Status title = checkNoticeText(wording.title);
    return title ? checkNoticeText(wording.text) : title;
}

Result<NoticeWords> noticeWords(const NoticeTemplate &wording, const NoticeFacts &facts,
                                const NoticeRecipient &recipient)
{
    if (Status sound = checkTemplate(wording); !sound) {
        return tl::unexpected(sound.error());
    }
    const QHash<QString, QString> values = valuesOf(wording, facts, recipient);
    const Fill fill = [&](const QString &field) -> Result<QString> {
        const QString value = values.value(field).trimmed();
        if (value.isEmpty()) {
            return fail(ErrorCode::BadInput,
                        QStringLiteral("Nothing is known for {%1} at service %2. %3")
                            .arg(field, recipient.service, whereToSet(field)));
        }
        return value;
    };
    const Result<QString> title = filled(wording.title, fill);
    if (!title) {
        return tl::unexpected(title.error());
    }
    return filled(wording.text, fill).map([&title](const QString &text) {
        return NoticeWords{*title, text};
    });
}

} // namespace keyround
