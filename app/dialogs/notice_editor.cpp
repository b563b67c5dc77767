// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/dialogs/notice_editor.h"

#include "app/commands/notice_commands.h"
#include "app/commands/push_command.h"
#include "app/commands/settings_commands.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/checked_line.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/settings_form.h"

#include <QEvent>
#include <QFormLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace keyround {

namespace {

constexpr NoticeForm kinds[]{NoticeForm::DoorHanger, NoticeForm::Letter, NoticeForm::Call};

/// What the example is filled with: plainly invented.
NoticeFacts exampleFacts(const NoticeTemplate &wording, const ProjectSettings &settings)
{
    const NoticeWindow window = windowFor(QTime(8, 10), QTime(10, 20));
    const QString &contact = settings.noticeTemplates.contact;
    return {QDate(2026, 3, 17),
            window.from,
            window.to,
            usualReason(wording.language),
            settings.utility.isEmpty() ? QObject::tr("(the utility)") : settings.utility,
            contact.isEmpty() ? QObject::tr("(the contact)") : contact};
}

} // namespace

NoticeEditor::NoticeEditor(Session &session, QWidget *parent)
    : QWidget(parent), m_session(session), m_form(new SettingsForm(session)),
      m_list(new QListWidget(this)), m_text(new QPlainTextEdit(this)),
      m_refusal(plainLabel({}, QStringLiteral("refusal"), this)),
      m_example(plainLabel({}, {}, this)),
      m_purgeWords(plainLabel({}, QStringLiteral("quiet"), this))
{
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(12, 12, 12, 12);
    layout->setSpacing(12);
    layout->addWidget(buildLeft(), 2);
    layout->addWidget(buildWording(), 3);
    Notifier &notifier = session.notifier();
    for (const auto change : {&Notifier::settingsChanged, &Notifier::projectChanged}) {
        connect(&notifier, change, this, &NoticeEditor::refresh);
    }
    connect(&notifier, &Notifier::layersChanged, this, &NoticeEditor::showPurge);
    refresh();
}

QWidget *NoticeEditor::buildLeft()
{
    auto *side = new QWidget(this);
    m_form->addLine(
        tr("Contact for questions"),
        [](const ProjectSettings &s) { return s.noticeTemplates.contact; },
        [](ProjectSettings &s, const QString &text) -> Status {
            s.noticeTemplates.contact = text.trimmed();
            return {};
        });
    m_form->addLine(
        tr("Sender's address, lines parted by ;"),
        [](const ProjectSettings &s) {
            QString address = s.noticeTemplates.senderAddress;
            return address.replace(QLatin1Char('\n'), QStringLiteral("; "));
        },
        [](ProjectSettings &s, const QString &text) -> Status {
            QStringList lines;
            for (const QString &line : text.split(QLatin1Char(';'), Qt::SkipEmptyParts)) {
                lines << line.trimmed();
            }
            s.noticeTemplates.senderAddress = lines.join(QLatin1Char('\n'));
            return {};
        });
    m_form->addNumber(
        tr("Days that names and phones are kept"), 1, 36500,
        [](ProjectSettings &s) -> int & { return s.noticeTemplates.keepContactDays; });
    m_list->setObjectName(QStringLiteral("wordings"));
    m_list->setAccessibleName(tr("Wordings"));
    connect(m_list, &QListWidget::currentRowChanged, this, [this] { showChosen(true); });
    auto *add = new QPushButton(tr("Add a wording"), side);
    add->setObjectName(QStringLiteral("wording-add"));
    connect(add, &QPushButton::clicked, this, &NoticeEditor::addWording);
    m_remove = new QPushButton(tr("Take the chosen one out"), side);
    m_remove->setObjectName(QStringLiteral("wording-remove"));
    connect(m_remove, &QPushButton::clicked, this, &NoticeEditor::removeWording);
    auto *buttons = new QHBoxLayout;
    buttons->addWidget(add);
    buttons->addWidget(m_remove);
    buttons->addStretch(1);
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    m_form->layout()->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_form);
    layout->addWidget(plainCaption(tr("Wordings"), QStringLiteral("heading"), side));
    layout->addWidget(m_list, 1);
    layout->addLayout(buttons);
    layout->addWidget(buildPurge());
    return side;
}

QWidget *NoticeEditor::buildPurge()
{
    auto *box = new QWidget(this);
    m_purgeWords->setObjectName(QStringLiteral("purge-words"));
    m_purge = new QPushButton(box);
    m_purge->setObjectName(QStringLiteral("purge"));
    connect(m_purge, &QPushButton::clicked, this, &NoticeEditor::purge);
    auto *layout = new QVBoxLayout(box);
    layout->setContentsMargins(0, 8, 0, 0);
    layout->addWidget(plainCaption(tr("Names and phones"), QStringLiteral("heading"), box));
    layout->addWidget(m_purgeWords);
    layout->addWidget(m_purge, 0, Qt::AlignLeft);
    return box;
}

CheckedLine *NoticeEditor::addLine(QFormLayout *form, const QString &label, const char *name,
                                   QString NoticeTemplate::*field)
{
    auto *line = new CheckedLine(
        label,
        [this, label, field](const QString &text) {
            return change(label, [&](NoticeTemplate &wording) { wording.*field = text.trimmed(); });
        },
        this);
    line->setObjectName(QLatin1String(name));
    form->addRow(label, line);
    m_lines.emplace_back(line, field);
    return line;
}

QWidget *NoticeEditor::buildWording()
{
    auto *side = new QWidget(this);
    auto *form = new QFormLayout;
    form->setFieldGrowthPolicy(QFormLayout::ExpandingFieldsGrow);
    addLine(form, tr("Name"), "wording-name", &NoticeTemplate::name);
    m_kind = new CalmComboBox(side);
    m_kind->setAccessibleName(tr("Kind of notice"));
    m_kind->setObjectName(QStringLiteral("wording-kind"));
    for (const NoticeForm kind : kinds) {
        m_kind->addItem(wordFor(kind));
    }
    connect(m_kind, &QComboBox::activated, this, [this](int index) {
        (void)change(tr("Kind"), [&](NoticeTemplate &wording) { wording.form = kinds[index]; });
    });
    form->addRow(tr("Kind"), m_kind);
    addLine(form, tr("Language"), "wording-language", &NoticeTemplate::language)
        ->line()
        ->setPlaceholderText(tr("en-US, es-US: how days and hours are written"));
    addLine(form, tr("Title"), "wording-title", &NoticeTemplate::title);
    m_text->setObjectName(QStringLiteral("wording-text"));
    m_text->setAccessibleName(tr("Text of the notice"));
    m_text->setTabChangesFocus(true);
    m_text->installEventFilter(this);
    m_refusal->setObjectName(QStringLiteral("wording-refusal"));
    m_example->setObjectName(QStringLiteral("wording-example"));
    m_example->setMargin(8);
    m_example->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    auto *area = new QScrollArea(side);
    area->setWidgetResizable(true);
    area->setWidget(m_example);
    QStringList fields;
    for (const QString &field : noticeFields()) {
        fields << QLatin1Char('{') + field + QLatin1Char('}');
    }
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addLayout(form);
    layout->addWidget(plainLabel(tr("Fields: %1").arg(fields.join(QStringLiteral(", "))),
                                 QStringLiteral("quiet"), side));
    layout->addWidget(m_text, 3);
    layout->addWidget(m_refusal);
    layout->addWidget(
        plainCaption(tr("Filled in with invented values"), QStringLiteral("heading"), side));
    layout->addWidget(area, 2);
    layout->addWidget(plainLabel(
        tr("The wordings that come with the program are examples. What must be said, and whether "
           "water must be boiled afterwards, is the utility's and its regulator's to say."),
        QStringLiteral("quiet"), side));
    return side;
}

bool NoticeEditor::eventFilter(QObject *watched, QEvent *event)
{
    if (watched == m_text && event->type() == QEvent::FocusOut) {
        takeText();
    }
    return QWidget::eventFilter(watched, event);
}

int NoticeEditor::chosen() const
{
    const auto count = static_cast<int>(m_session.settings().noticeTemplates.list.size());
    return m_list->currentRow() < count ? m_list->currentRow() : -1;
}

Status NoticeEditor::store(ProjectSettings after, const QString &text)
{
    return pushCommand(m_session,
                       std::make_unique<ChangeSettings>(m_session, std::move(after), text));
}

Status NoticeEditor::change(const QString &what, const std::function<void(NoticeTemplate &)> &edit)
{
    const int row = chosen();
    if (row < 0) {
        return {};
    }
    ProjectSettings after = m_session.settings();
    NoticeTemplate &wording = after.noticeTemplates.list[static_cast<std::size_t>(row)];
    const NoticeTemplate before = wording;
    edit(wording);
    if (wording == before) {
        return {};
    }
    if (Status sound = checkTemplate(wording); !sound) {
        return sound;
    }
    return store(std::move(after), tr("Change a wording: %1").arg(what));
}

void NoticeEditor::takeText()
{
    const QString typed = m_text->toPlainText();
    const Status taken =
        change(tr("Text"), [&typed](NoticeTemplate &wording) { wording.text = typed; });
    m_refusal->setText(taken ? QString() : taken.error().message);
    m_refusal->setVisible(!taken);
    restyle(m_text, "refused", !taken);
}

void NoticeEditor::addWording()
{
    ProjectSettings after = m_session.settings();
    std::vector<NoticeTemplate> &list = after.noticeTemplates.list;
    NoticeTemplate fresh = exampleNotices().front();
    for (int number = static_cast<int>(list.size()) + 1;; ++number) {
        fresh.name = tr("Wording %1").arg(number);
        if (templateNamed(after.noticeTemplates, fresh.name) == nullptr) {
            break;
        }
    }
    list.push_back(std::move(fresh));
    if (store(std::move(after), tr("Add a wording"))) {
        m_list->setCurrentRow(m_list->count() - 1);
    }
}

void NoticeEditor::removeWording()
{
    const int row = chosen();
    if (row >= 0) {
        ProjectSettings after = m_session.settings();
        after.noticeTemplates.list.erase(after.noticeTemplates.list.begin() + row);
        (void)store(std::move(after), tr("Take a wording out"));
    }
}

void NoticeEditor::refresh()
{
    setEnabled(m_session.isOpen());
    const std::vector<NoticeTemplate> &list = m_session.settings().noticeTemplates.list;
    const int before = m_list->currentRow();
    {
        const QSignalBlocker quiet(m_list);
        m_list->clear();
        for (const NoticeTemplate &wording : list) {
            m_list->addItem(tr("%1 (%2)").arg(wording.name, wordFor(wording.form)));
        }
        m_list->setCurrentRow(
            list.empty() ? -1 : std::clamp(before, 0, static_cast<int>(list.size()) - 1));
    }
    showChosen(m_list->currentRow() != before);
    m_isSure = false;
    showPurge();
}

void NoticeEditor::showChosen(bool isOther)
{
    const int row = chosen();
    m_remove->setEnabled(row >= 0);
    m_kind->setEnabled(row >= 0);
    m_text->setEnabled(row >= 0);
    const NoticeTemplate wording =
        row < 0 ? NoticeTemplate{}
                : m_session.settings().noticeTemplates.list[static_cast<std::size_t>(row)];
    for (const auto &[line, field] : m_lines) {
        line->setEnabled(row >= 0);
        if (isOther) {
            line->reset(wording.*field);
        } else {
            line->setStored(wording.*field);
        }
    }
    m_kind->setCurrentIndex(static_cast<int>(wording.form));
    if (isOther || (!m_text->hasFocus() && m_refusal->isHidden())) {
        m_text->setPlainText(wording.text);
        m_refusal->clear();
        m_refusal->hide();
        restyle(m_text, "refused", false);
    }
    showExample();
}

void NoticeEditor::showExample()
{
    const int row = chosen();
    if (row < 0) {
        m_example->setText(tr("There is no wording: add one."));
        return;
    }
    const ProjectSettings &settings = m_session.settings();
    const NoticeTemplate &wording = settings.noticeTemplates.list[static_cast<std::size_t>(row)];
    const NoticeRecipient somebody{QStringLiteral("S00001"), tr("1 Invented Way"),
                                   tr("Customer 00001"), QStringLiteral("555-0100"), false};
    const Result<NoticeWords> words =
        noticeWords(wording, exampleFacts(wording, settings), somebody);
    m_example->setText(words ? words->title + QStringLiteral("\n\n") + words->text
                             : words.error().message);
}

void NoticeEditor::showPurge()
{
    if (!m_session.isOpen()) {
        return;
    }
    const QDate before =
        m_session.today().addDays(-m_session.settings().noticeTemplates.keepContactDays);
    const Result<ContactPurge> preview = previewPurge(m_session, before);
    m_purge->setEnabled(preview && preview->services > 0);
    m_purge->setText(m_isSure ? tr("Yes, delete them for good") : tr("Delete names and phones..."));
    m_purgeWords->setText(preview ? purgeWords(*preview, false) : preview.error().message);
}

void NoticeEditor::purge()
{
    if (!m_isSure) {
        m_isSure = true; // the words above say what the next press does
        showPurge();
        return;
    }
    const QDate before =
        m_session.today().addDays(-m_session.settings().noticeTemplates.keepContactDays);
    const Result<ContactPurge> done = purgeContacts(m_session, before);
    m_isSure = false;
    showPurge();
    if (done) {
        Q_EMIT m_session.notifier().said(purgeWords(*done, true));
    } else {
        Q_EMIT m_session.notifier().failed(done.error().message);
    }
}

} // namespace keyround
